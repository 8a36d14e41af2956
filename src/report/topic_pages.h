// SPDX-License-Identifier: MIT
// The pages of topic_words.h; only for that.
#pragma once

#include <vector>

#include "report/topic_words.h"

namespace evenspit {

/// What turns: balance, motor, rod, forks, gaps, and how places are told.
std::vector<Topic> turning_topics(UnitSystem units);

/// What is roasted, how and how safely; and what the program asks or assumes.
std::vector<Topic> cooking_topics(UnitSystem units);

}  // namespace evenspit
