// SPDX-License-Identifier: MIT
// A folder for one test, with a small load in it that reads without a complaint.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "load/load_file.h"
#include "support/meshes.h"
#include "support/temporary_folder.h"
#include "units/error.h"

namespace evenspit::test {

inline std::filesystem::path models_folder() {
    return std::filesystem::path(EVENSPIT_SOURCE_DIR) / "models";
}

/// A mesh as OFF text.
inline std::string off_text(const TriangleMesh& mesh) {
    std::string text = fmt::format("OFF\n{} {} 0\n", mesh.vertices.size(), mesh.triangles.size());
    for (const Vec3& v : mesh.vertices) text += fmt::format("{} {} {}\n", v.x(), v.y(), v.z());
    for (const Triangle& t : mesh.triangles) text += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
    return text;
}

/// Every section once, nothing from the models, the body a scan of a box of 300 × 120 × 100 mm.
inline const std::string small_load = R"(title = "Supper of the ferry crew"

[rod]
section = "square"
width = "8 mm"
length = "760 mm"
supports = ["20 mm", "660 mm"]
usable = ["60 mm", "620 mm"]
youngs_modulus = "200 GPa"
yield_strength = "190 MPa"
density = "7900 kg/m3"

[motor]
kind = "dc"
rated_torque = "2.5 N m"
stall_torque = "5 N m"
speed = "3 rpm"
support_friction = 0.12

[cooker]
[[cooker.surface]]
name = "coal bed"
shape = "box"
min = ["150 mm", "-150 mm", "-300 mm"]
max = ["530 mm", "150 mm", "-220 mm"]
fire = true
temperature = "700 degC"
[[cooker.surface]]
name = "kettle"
shape = "revolved"
centre = ["340 mm", "0 mm", "0 mm"]
profile = [["0 mm", "-320 mm"], ["330 mm", "0 mm"], ["0 mm", "320 mm"]]

[[item]]
name = "roast"
scan = "box.off"
scan_unit = "mm"
mass = "3.6 kg"
at = "340 mm"
line = { from = ["4 mm", "-6 mm"], to = ["2 mm", "-1 mm"] }

[[fork]]
at = "190 mm"
points = "point"
mass = "160 g"
tine = [ { clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" } ]

[[counterweight]]
at = "90 mm"
mass = "300 g"
radius = "70 mm"
clock = "210 deg"
diameter = "40 mm"

[stock]
counterweights = [ { mass = "300 g", radius = ["40 mm", "110 mm"], diameter = "40 mm" } ]

[cook]
cooker_temperature = "300 degF"
pull = { core = "162 degF" }
serve = "18:30"
)";

class LoadTest : public testing::Test {
  protected:
    void SetUp() override { write("box.off", off_text(box_mesh(Vec3(-150, -60, -50), Vec3(150, 60, 50)))); }

    void write(const std::string& name, const std::string& text) const {
        std::filesystem::create_directories((folder_ / name).parent_path());
        std::ofstream(folder_ / name, std::ios::binary) << text;
    }

    /// Reads a load of that text.
    [[nodiscard]] Assembly read(const std::string& text) const { return read(text, models_folder()); }
    [[nodiscard]] Assembly read(const std::string& text, const std::filesystem::path& models) const {
        write("load.toml", text);
        return read_load(folder_ / "load.toml", models);
    }

    /// The complaints about a load of that text; none if it reads.
    [[nodiscard]] std::vector<Complaint> complaints(const std::string& text) const {
        try {
            [[maybe_unused]] const Assembly assembly = read(text);
        } catch (const InputError& error) {
            return error.complaints();
        }
        return {};
    }

    TemporaryFolder folder_;
};

/// `text` with the first `old` in it replaced; throws if there is none, so that no test changes nothing.
inline std::string with(std::string text, const std::string& old, const std::string& fresh) {
    const std::size_t at = text.find(old);
    if (at == std::string::npos) throw std::invalid_argument("not in the text: " + old);
    return text.replace(at, old.size(), fresh);
}

/// The line, from 1, in which `piece` first stands.
inline int line_of(const std::string& text, const std::string& piece) {
    const std::size_t at = text.find(piece);
    if (at == std::string::npos) throw std::invalid_argument("not in the text: " + piece);
    return 1 +
           static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

}  // namespace evenspit::test
