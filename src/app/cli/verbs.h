// SPDX-License-Identifier: MIT
#pragma once

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
};

/// `check`: reads the load, analyses it, and tells the result in the format asked for.
///
/// \throws InputError from reading the load
Outcome check(const Request& request, const Surroundings& around, Progress& progress);

/// `models`: one line for each model: kind, name, what it is.
///
/// \throws InputError if the models cannot be read
Outcome models(const Request& request, const Surroundings& around);

}  // namespace evenspit
