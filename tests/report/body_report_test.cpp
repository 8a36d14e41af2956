// SPDX-License-Identifier: MIT
#include "report/body_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "support/meshes.h"

namespace evenspit {
namespace {

using nlohmann::json;
using test::box_mesh;

/// A block of 200 × 100 × 80 mm, 1000 kg/m3 (1.6 kg), with a hollow of 40 × 20 × 20 mm half filled.
body::Body block() {
    body::Body body;
    body.name = "block\x1b";
    body.parts.push_back(
        {.name = "flesh", .mesh = box_mesh({-0.1, -0.05, -0.04}, {0.1, 0.05, 0.04}), .density_kg_m3 = 1000});
    body.parts.push_back({.name = "cavity",
                          .kind = body::PartKind::cavity,
                          .mesh = box_mesh({0, -0.01, -0.01}, {0.04, 0.01, 0.01}),
                          .parent = 0});
    body.parts.push_back({.name = "stuffing",
                          .kind = body::PartKind::stuffing,
                          .mesh = box_mesh({0, -0.01, -0.01}, {0.02, 0.01, 0.01}),
                          .density_kg_m3 = 500,
                          .parent = 1});
    body.shares = {{{"front"}, 0.64, {0.05, 0, 0}}, {{"rear"}, 0.96, {-0.04, 0, 0}}};
    body.swung.push_back({"left wing", box_mesh({0, 0, 0}, {1, 1, 1})});
    body.remarks = {"a remark that is long enough to run over the end of a line of sixty columns"};
    return body;
}

TEST(BodyReport, TellsABodyInWords) {
    EXPECT_EQ(body_text(block(), {.width = 60}), R"(block , 1.59 kg
x runs along it, z up as it lies.

Body
  mass              1.59 kg
                    of it stuffing 4 g
  volume            1.59 l, 997 kg/m³
  size              200 mm long, 100 mm wide, 80 mm deep
  girth             360 mm, most at x = -99 mm
  centre of mass    0 mm, 0 mm, 0 mm
  cavity            0.016 l

Parts, bone in
  part    mass  share  centre of mass x, y, z
  front  640 g   40 %       50 mm, 0 mm, 0 mm
  rear   960 g   60 %      -40 mm, 0 mm, 0 mm

Good to know
  -  a remark that is long enough to run over the end of a
     line of sixty columns
)");
}

TEST(BodyReport, TellsABodyInUsUnits) {
    const std::string text = body_text(block(), {.units = UnitSystem::us});
    EXPECT_THAT(text, testing::HasSubstr("7 7/8 in long"));
    EXPECT_THAT(text, testing::HasSubstr("1.68 qt"));
}

TEST(BodyReport, SaysWhichWayABirdLies) {
    body::Body bird = block();
    bird.pointed_ends_known = true;
    EXPECT_THAT(body_text(bird, {}), testing::HasSubstr("x runs from vent to neck, z from back to breast"));
}

TEST(BodyReport, TellsABodyAsJson) {
    const json told = json::parse(body_json(block()));
    EXPECT_NEAR(told["mass_kg"].get<double>(), 1.588, 1e-12);
    EXPECT_NEAR(told["volume_m3"].get<double>(), 1.592e-3, 1e-12);
    EXPECT_NEAR(told["size_m"][2].get<double>(), 0.08, 1e-12);
    EXPECT_NEAR(told["girth_m"].get<double>(), 0.36, 1e-12);
    EXPECT_NEAR(told["cavity_m3"].get<double>(), 16e-6, 1e-15);
    EXPECT_EQ(told["parts"][1]["name"], "rear");
    EXPECT_EQ(told["parts"][1]["centre_of_mass_m"], json::array({-0.04, 0, 0}));
    EXPECT_EQ(told["contents"][0]["name"], "stuffing");
    EXPECT_EQ(told["free"][0], "left wing");
    EXPECT_EQ(told["remarks"].size(), 1U);
    body::Body plain;
    plain.name = "plain";
    plain.parts = {block().parts[0]};
    EXPECT_FALSE(json::parse(body_json(plain)).contains("cavity_m3"));
}

}  // namespace
}  // namespace evenspit
