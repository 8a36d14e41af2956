// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <string>
#include <vector>

#include "app/cli/words.h"

namespace evenspit {

/// What `shape` is to make: texts for the keys of an [[item]], as a load file has them.
struct ShapeWords {
    std::map<std::string, std::string> texts{};  ///< "shape", "mass", "tape.length" …
    std::vector<std::string> missing{};
};

/// \throws UsageError if there is no name or no weight
ShapeWords shape_words(const Words& words);

}  // namespace evenspit
