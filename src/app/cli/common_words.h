// SPDX-License-Identifier: MIT
// What several verbs share: words that may stand behind them, and how those are understood.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/chance.h"
#include "app/cli/verb.h"
#include "units/range.h"

namespace evenspit {

WordSpec load_operand(std::string about = "The load file (TOML)");
WordSpec json_flag();
WordSpec quiet_flag();
WordSpec csv_flag(std::string about);
WordSpec units_option();
WordSpec output_option(std::string about);
/// An option whose value names a file.
WordSpec file_option(std::string names, std::string about);

/// The unit of a scan whose format has none, and what was typed there, "" for nothing.
///
/// \throws UsageError if it is no unit of length
WordSpec scan_unit_option();
std::string scan_unit_of(const Words& words);

WordSpec mountings_option(int usual = usual_mountings);

/// A whole number, without a sign before it or anything behind; nothing for any other text.
std::optional<std::size_t> whole_number(std::string_view text);

/// How many mountings to try: what the option says, else `usual`.
///
/// \throws UsageError unless it is a whole number from 0 to 100,000
int mountings_of(const Words& words, int usual);

/// What every verb understands alike: format, units, output, progress.
///
/// \throws UsageError for an unknown system of units, two formats, an output without a name
Request common_request(const Words& words);

/// The same with the load file.
///
/// \throws UsageError also if there is none
Request load_request(const Words& words, std::string_view verb);

/// A quantity that is the value of an option, in SI.
///
/// \throws UsageError naming the option, what was found and what was expected
double option_quantity(const std::string& option, const std::string& text, Dimension dimension, Range range);

/// One of a few words; the nearest one is offered for a slip.
///
/// \throws UsageError naming the option
std::string one_of(const std::string& option, const std::string& word, const std::vector<std::string>& known);

/// "; did you mean 'check'?", "" if nothing known is near.
std::string did_you_mean(const std::string& word, const std::vector<std::string>& known);

/// A value of an option that is refused: "--frame: found 'world'; expected auto or file".
///
/// \param mend may be empty
[[noreturn]] void refuse_option(const std::string& option, std::string found, std::string expected,
                                std::string mend = {});

}  // namespace evenspit
