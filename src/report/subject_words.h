// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "analysis/finding.h"
#include "body/body.h"
#include "load/assembly.h"

namespace evenspit {

/// With a capital.
std::string at_start_of_sentence(std::string words);

/// At the start of a sentence. Names that people gave stay as they are.
std::string at_start(const Thing& thing, std::string name);

/// "turkey", or "turkey (item 2)" where names alone do not tell.
std::string item_name(const Assembly& assembly, std::size_t item);

/// The limbs in a few words: "left leg and wings" for a left leg and a wing on either side.
std::string free_limbs(const std::vector<body::SwungLimb>& limbs);

/// What a finding is about, as part of a list: "the gap to lid", "the stress", "the hold of turkey".
std::string subject_text(const Finding& finding, const Assembly& assembly);

}  // namespace evenspit
