// SPDX-License-Identifier: MIT
// Runs the command line in this process, as a terminal or a script would.
#pragma once

#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "app/cli/run.h"

namespace evenspit::test {

/// How a run ended, and what it said.
struct Ending {
    int status = -1;
    std::string out, err;
};

/// What the program finds around it.
struct World {
    bool terminal = false;
    int columns = 80;
    std::map<std::string, std::string> variables{};
    std::string answers{};  ///< typed by who sits at the terminal
};

/// Where the models are, for loads that name some.
inline World with_models() {
    return {.variables = {{"EVENSPIT_MODELS", EVENSPIT_SOURCE_DIR "/models"}}};
}

inline Ending run_in(const World& world, const std::vector<std::string>& arguments) {
    std::ostringstream out, err;
    std::istringstream in(world.answers);
    const int status =
        run(arguments, {.out = out,
                        .err = err,
                        .in = &in,
                        .in_is_terminal = world.terminal,
                        .out_is_terminal = world.terminal,
                        .err_is_terminal = world.terminal,
                        .columns = world.columns,
                        .program = "/nowhere/bin/evenspit",
                        .variable = [&](const std::string& name) {
                            const auto at = world.variables.find(name);
                            return at == world.variables.end() ? std::nullopt : std::optional(at->second);
                        }});
    return {status, out.str(), err.str()};
}

/// With nothing around it.
inline Ending run_plain(const std::vector<std::string>& arguments) {
    return run_in({}, arguments);
}

/// With the models at hand.
inline Ending run_with_models(const std::vector<std::string>& arguments) {
    return run_in(with_models(), arguments);
}

}  // namespace evenspit::test
