// SPDX-License-Identifier: MIT
#include <filesystem>

#include "finding.h"
#include "load/load_file.h"
#include "targets.h"
#include "units/error.h"

namespace evenspit::fuzz {

namespace {

// The width of the rod in beside/decoy.toml: a file outside the models' folder, which no name of a model may
// lead to.
constexpr double decoy_width_m = 0.012345;

}  // namespace

// A load file in a folder with a small scan beside it, and the models of the program.
void load(std::string_view bytes) {
    const std::filesystem::path source = EVENSPIT_SOURCE_DIR;
    try {
        const Assembly assembly =
            read_load_text(bytes, source / "tests/fuzz/beside/load.toml", source / "models");
        demand(!assembly.items.empty(), "a load without items");
        demand(assembly.rod.width_m != decoy_width_m || bytes.find("12.345") != bytes.npos,
               "a model from outside the models' folder");
    } catch (const InputError& error) {
        demand(!error.complaints().empty(), "a complaint about nothing");
    }
}

}  // namespace evenspit::fuzz
