// SPDX-License-Identifier: MIT
// A small load that can be written into any folder: an ellipsoid of 2 kg, off the rod by 4 mm, on two forks.
#pragma once

#include <string>

#include "geometry/mesh_io.h"
#include "support/meshes.h"
#include "support/temporary_folder.h"

namespace evenspit::test {

/// What a test may want otherwise; as written in the load file.
struct SampleLoad {
    std::string rated_torque = "0.5 N m";
    std::string stall_torque = "1 N m";
    std::string friction_torque = "0.1 N m";
    std::string keep = "25 mm";
    std::string extra{};  ///< further lines at the end
};

inline constexpr double sample_mass_kg = 2;
inline constexpr double sample_offset_m = 0.004;

/// Writes "body.ply" and "load.toml" and returns the latter's path.
inline std::filesystem::path write_sample_load(const TemporaryFolder& folder, const SampleLoad& load = {}) {
    write_mesh(folder / "body.ply", ellipsoid_mesh(0.1, 0.07, 0.06, Vec3(0, sample_offset_m, 0)));
    return folder.write("load.toml", R"(title = "Sample roast"

[rod]
section = "square"
width = "8 mm"
length = "700 mm"
supports = ["20 mm", "660 mm"]
usable = ["60 mm", "620 mm"]
youngs_modulus = "190 GPa"
yield_strength = "200 MPa"
density = "7900 kg/m3"

[motor]
kind = "dc"
rated_torque = ")" + load.rated_torque + R"("
stall_torque = ")" + load.stall_torque + R"("
speed = "3 rpm"
friction_torque = ")" + load.friction_torque +
                                         R"("

[[cooker.surface]]
name = "grate"
shape = "plane"
point = ["0 mm", "0 mm", "-200 mm"]
normal = [0, 0, 1]
keep = ")" + load.keep + R"("

[[item]]
name = "roast"
scan = "body.ply"
scan_unit = "m"
frame = "file"
mass = "2 kg"
at = "340 mm"

[[fork]]
at = "230 mm"
points = "point"
mass = "150 g"
tine = [ { clock = "90 deg", radius = "25 mm", length = "90 mm", diameter = "5 mm" },
         { clock = "270 deg", radius = "25 mm", length = "90 mm", diameter = "5 mm" } ]

[[fork]]
at = "450 mm"
points = "drive"
mass = "150 g"
tine = [ { clock = "90 deg", radius = "25 mm", length = "90 mm", diameter = "5 mm" },
         { clock = "270 deg", radius = "25 mm", length = "90 mm", diameter = "5 mm" } ]
)" + load.extra);
}

}  // namespace evenspit::test
