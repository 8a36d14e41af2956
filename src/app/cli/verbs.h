// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "app/cli/options.h"
#include "app/cli/progress.h"
#include "app/cli/run.h"
#include "app/cli/surroundings.h"

namespace evenspit {

/// What a verb has to say, not yet written anywhere.
struct Outcome {
    std::string text;
    ExitStatus status = computed;
    std::optional<std::string> file{};  ///< goes to the output file, and the text to standard output
};

/// `check`: reads the load, analyses it, and tells the result in the format asked for.
///
/// \throws InputError from reading the load
Outcome check(const Request& request, const Surroundings& around, Progress& progress);

/// `plan`: where rod, forks and counterweights should go. With an output file, the load file with the chosen
/// answer in it.
///
/// \throws InputError from reading the load; UsageError if there is no such answer to pick
Outcome plan(const Request& request, const Surroundings& around, Progress& progress);

/// `compare`: loads side by side, or one load with a key swept over values. The output file's ending chooses
/// CSV
/// (.csv) or a picture (.svg).
///
/// \throws InputError from reading a load or the sweep; UsageError for a picture of anything but a sweep
Outcome compare(const Request& request, const Surroundings& around, Progress& progress);

/// `fit`: how large a body rod, motor and cooker can take.
///
/// \throws InputError from reading the load
Outcome fit(const Request& request, const Surroundings& around, Progress& progress);

/// `shape`: a parametric body in figures; its skin for the output file, if there is one.
///
/// \throws InputError, its keys the options' names, for words that make no body; UsageError for an output
/// file that is no .ply
Outcome shape(const Request& request, const Surroundings& around);

/// `scan`: a closed body from one raw scan or two, for the output file; the report as text.
///
/// \throws InputError for scans of which no body can be made
Outcome scan(const Request& request, Progress& progress);

/// `models`: one line for each parametric body and each model: kind, name, what it is.
///
/// \throws InputError if the models cannot be read
Outcome models(const Request& request, const Surroundings& around);

/// `view`: the viewer in a window, until it is left; or its picture, drawn without a display into a file that
/// appears whole or not at all. A picture's status is that of its verdict.
///
/// \throws InputError from reading the load, or if there is no display or no way to draw
Outcome view(const Request& request, const Surroundings& around, Progress& progress);

}  // namespace evenspit
