// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/analysis.h"
#include "load/load_text.h"
#include "units/quantity.h"

namespace evenspit::plan {

/// A load and what came of it.
struct ComparedLoad {
    std::string name;  ///< what its column is called
    Assembly assembly;
    Analysis analysis;
};

/// One figure of all loads.
struct ComparedFigure {
    std::string_view key;    ///< as in the JSON result: "motor_use"
    std::string_view label;  ///< for people: "motor used"
    std::string_view head;   ///< the same in one word: "motor"
    Dimension dimension = Dimension::number;
    bool share = false;  ///< a share of 1, told in per cent
    bool more_is_better = false;
    std::vector<std::optional<double>> values;  ///< SI, one per load; absent where it could not be computed
    bool differs = false;                       ///< by more than a thousandth of the largest
    std::vector<bool> best;                     ///< the better ones; none where nothing differs
};

/// The figures of `check` that tell loads apart, in the order in which a cook asks for them.
std::vector<ComparedFigure> compared_figures(const std::vector<ComparedLoad>& loads);

/// A key of a load file and the values it shall take in turn.
struct Sweep {
    KeyPath path;
    std::string key;                  ///< as it was asked for
    std::vector<std::string> values;  ///< as they are written in the file: "\"150 mm\"", "0.2"
    std::vector<std::string> labels;  ///< without quotes
    std::vector<double> numbers;      ///< in `unit`
    std::string unit;                 ///< "mm"; empty for plain numbers
};

/// Reads "fork.1.at=150mm:250mm:10mm": from, to (included), step. The unit may stand at any of the three;
/// with none the values are plain numbers.
///
/// \throws InputError if there is no key, the three are not numbers of one unit, the step leads away from the
/// end,
///         or there would be more than 1000 values
Sweep parse_sweep(std::string_view text);

}  // namespace evenspit::plan
