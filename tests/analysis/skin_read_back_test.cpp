// SPDX-License-Identifier: MIT
// The skin of a shape, written to a file and read back as a scan, is judged as the shape is.
#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "analysis/analysis.h"
#include "body/skin_file.h"
#include "load/load_file.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

// A bird on two forks, its body given by the lines of `body`.
std::string bird_load(const std::string& body) {
    return R"([rod]
model = "square-10mm"
[motor]
model = "mains-gearmotor"
support_friction = 0.18
[cooker]
model = "kettle-57"
[[item]]
name = "bird"
)" + body + R"(
at = "350 mm"
line = { from = ["0 mm", "6 mm"], to = ["0 mm", "6 mm"] }
[[fork]]
model = "two-tine"
at = "195 mm"
points = "point"
clock = "45 deg"
[[fork]]
model = "two-tine"
at = "505 mm"
points = "drive"
clock = "45 deg"
)";
}

// What is told, but for assumptions, and for bones, which a skin alone does not have.
std::multiset<std::string_view> codes(const Assembly& assembly) {
    std::multiset<std::string_view> all;
    for (const Finding& finding : analyse(assembly).findings) {
        const bool of_bones = finding.code == Code::tine_in_bone || finding.code == Code::rod_in_bone;
        if (finding.code != Code::assumption && !of_bones) all.insert(code_name(finding.code));
    }
    return all;
}

double least_cover_m(const Assembly& assembly) {
    double least = 1;
    for (const ForkGrip& fork : analyse(assembly).grip.forks) {
        for (const TineGrip& tine : fork.tines) least = std::min(least, tine.cover_min_m.value_or(least));
    }
    return least;
}

TEST(SkinReadBack, GivesNoFindingThatTheShapeDoesNot) {
    const std::filesystem::path models = std::filesystem::path(EVENSPIT_SOURCE_DIR) / "models";
    const test::TemporaryFolder folder;
    for (const auto& [shape, mass] : {std::pair{"turkey", "5.9 kg"}, {"goose", "4.2 kg"}}) {
        const Assembly shaped =
            read_load_text(bird_load(fmt::format("shape = \"{}\"\nmass = \"{}\"", shape, mass)),
                           folder / "shape.toml", models);
        const body::Body& body = shaped.items[0].body->body;
        folder.write("skin.ply", body::skin_ply(body));
        const Assembly read_back = read_load_text(
            bird_load(fmt::format("scan = \"skin.ply\"\nscan_unit = \"m\"\nmass = \"{}\"", mass)),
            folder / "scan.toml", models);
        EXPECT_EQ(body::region_names(read_back.items[0].body->body.region_table),
                  body::region_names(body.region_table));
        const auto of_skin = codes(read_back), of_shape = codes(shaped);
        EXPECT_TRUE(std::includes(of_shape.begin(), of_shape.end(), of_skin.begin(), of_skin.end()))
            << shape << ": " << ::testing::PrintToString(of_skin);
        // A tine that ends before the hollow has less ahead of it where hollow and flesh do not quite meet,
        // as in the shape.
        EXPECT_GE(least_cover_m(read_back), least_cover_m(shaped) - 1e-9) << shape;
    }
}

}  // namespace
}  // namespace evenspit
