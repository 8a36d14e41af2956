// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "analysis/analysis.h"
#include "app/verb_runner.h"
#include "body/shape.h"
#include "geometry/mesh_io.h"
#include "load/load_file.h"
#include "report/finding_words.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

using nlohmann::json;
using test::content_of;
using test::Ending;
using test::TemporaryFolder;
using testing::AllOf;
using testing::HasSubstr;
using testing::StartsWith;

Ending shape(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "shape");
    return test::run_plain(arguments);
}

// A load of one item on a long rod, without forks and cooker.
std::string load_of_shape(const std::string& item) {
    return R"([rod]
section = "square"
width = "10 mm"
length = "1 m"
supports = ["20 mm", "980 mm"]
usable = ["30 mm", "970 mm"]
youngs_modulus = "190 GPa"
yield_strength = "200 MPa"
density = "7900 kg/m3"

[motor]
kind = "dc"
rated_torque = "2 N m"
stall_torque = "4 N m"
speed = "3 rpm"

[[item]]
at = "500 mm"
)" + item + '\n';
}

TEST(ShapeVerb, TellsTheFiguresOfABody) {
    const Ending end = shape({"turkey", "--mass", "6 kg"});
    EXPECT_EQ(end.status, 0) << end.err;
    EXPECT_THAT(end.out, StartsWith("turkey, 6 kg\n"));
    for (const char* what : {"girth", "centre of mass", "cavity", "left drumstick"})
        EXPECT_THAT(end.out, HasSubstr(what));
    EXPECT_THAT(shape({"leg-of-lamb", "--mass", "5 lb 8 oz", "--units", "us"}).out,
                StartsWith("leg of lamb, 5 lb 8 oz\n"));
}

TEST(ShapeVerb, MakesWhatALoadFileWouldMake) {
    const Ending end = shape({"turkey", "--mass", "6 kg", "--missing", "left wing", "--trussing", "legs tied",
                              "--stuffing", "300 g", "--giblets", "100 g", "--json"});
    ASSERT_EQ(end.status, 0) << end.err;
    const json told = json::parse(end.out);
    body::ShapeOptions options;
    options.species = "turkey";
    options.mass_kg = 6;
    options.missing = {"left wing"};
    options.trussing = body::Trussing::legs_tied;
    options.stuffing_kg = 0.3;
    options.giblets_kg = 0.1;
    const body::Body body = body::make_shape(options);
    const Moments mass = body::mass_moments(body);
    EXPECT_EQ(told["shape"], "turkey");
    EXPECT_NEAR(told["mass_kg"].get<double>(), 6.4, 1e-9);
    EXPECT_DOUBLE_EQ(told["centre_of_mass_m"][1].get<double>(), mass.centre.y());
    EXPECT_DOUBLE_EQ(told["inertia_kg_m2"][0][1].get<double>(), mass.inertia()(0, 1));
    EXPECT_NEAR(told["density_kg_m3"].get<double>() * told["volume_m3"].get<double>(), 6.4, 1e-9);
    EXPECT_EQ(told["parts"].size(), body.shares.size());
    EXPECT_EQ(told["contents"].size(), 2U);
    EXPECT_EQ(told["free"], json::array({"right wing"}));
    EXPECT_GT(told["girth_m"].get<double>(), 0.5);
    EXPECT_GT(told["cavity_m3"].get<double>(), 0.5e-3);
}

// What was written, read as a scan, weighs where the body does. Only the bones are not seen: they move the
// centre by less than 2 mm.
TEST(ShapeVerb, WritesABodyThatReadsBackAsAScan) {
    for (const auto& [name, mass] :
         {std::pair{"turkey", "6 kg"}, std::pair{"suckling pig", "7 kg"}, std::pair{"rib roast", "4 kg"}}) {
        SCOPED_TRACE(name);
        const TemporaryFolder folder;
        const Ending end =
            shape({name, "--mass", mass, "--json", "-o", (folder / "body.ply").string(), "--quiet"});
        ASSERT_EQ(end.status, 0) << end.err;
        EXPECT_FALSE(read_mesh(folder / "body.ply").regions.empty());
        const Item scanned =
            read_load(folder.write("load.toml",
                                   load_of_shape("scan = \"body.ply\"\nmass = \"" + std::string(mass) + '"')),
                      folder.path())
                .items[0];
        const json told = json::parse(end.out);
        const auto& centre = told["centre_of_mass_m"];
        const Vec3 made(centre[0].get<double>(), centre[1].get<double>(), centre[2].get<double>());
        EXPECT_LT((scanned.body->mass.centre - made).norm(), 2e-3);
        EXPECT_NEAR(scanned.body->volume_m3, told["volume_m3"].get<double>(), 1e-9);
    }
}

TEST(ShapeVerb, WhatIsWrongIsToldByItsOption) {
    const auto complaint = [](std::vector<std::string> arguments) {
        const Ending end = shape(std::move(arguments));
        EXPECT_EQ(end.status, 2);
        EXPECT_EQ(end.out, "");
        return end.err;
    };
    EXPECT_THAT(complaint({"turky", "--mass", "6 kg"}),
                AllOf(StartsWith("evenspit: shape: found 'turky'; expected one of: turkey, chicken"),
                      HasSubstr("did you mean \"turkey\"?")));
    EXPECT_THAT(complaint({"turkey", "--mass", "13"}),
                StartsWith("evenspit: --mass: found '13', a number without a unit; expected a mass"));
    EXPECT_THAT(complaint({"turkey", "--mass", "900 kg"}), StartsWith("evenspit: --mass: found 900 kg"));
    EXPECT_THAT(complaint({"turkey", "--mass", "6 kg", "--missing", "left leg", "--missing", "left wnig"}),
                AllOf(StartsWith("evenspit: --missing: found 'left wnig'"),
                      HasSubstr("did you mean \"left wing\"?")));
    EXPECT_THAT(complaint({"turkey", "--mass", "5 kg", "--length", "20 cm"}),
                StartsWith("evenspit: --length: found 200 mm; expected about"));
    EXPECT_THAT(complaint({"rib roast", "--mass", "4 kg", "--leg-splay", "20 cm"}),
                StartsWith("evenspit: --leg-splay: found leg_splay of a rib roast; expected nothing"));
    EXPECT_THAT(complaint({"turkey", "--mass", "6 kg", "--stuffing-density", "700 kg/m3"}),
                StartsWith("evenspit: --stuffing-density: found stuffing_density without stuffing"));
    // All at once.
    const std::string several = complaint({"turkey", "--mass", "6", "--girth", "7"});
    EXPECT_THAT(several, AllOf(HasSubstr("--mass:"), HasSubstr("\nevenspit: --girth:")));
}

TEST(ShapeVerb, LeavesNoFileWhereThereIsNoBody) {
    const TemporaryFolder folder;
    const std::string file = folder.write("body.ply", "old").string();
    EXPECT_EQ(shape({"turkey", "--mass", "900 kg", "-o", file}).status, 2);
    EXPECT_EQ(content_of(file), "old");
    const Ending end = shape({"turkey", "--mass", "6 kg", "-o", (folder / "body.stl").string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_THAT(end.err, HasSubstr("--output: found 'body.stl'; expected a name that ends in .ply"));
    EXPECT_FALSE(std::filesystem::exists(folder / "body.stl"));
}

TEST(Check, RunsOnEveryBodyInEveryState) {
    const std::vector<std::string> of_birds = {
        "", "trussing = \"legs tied\"", "trussing = \"loose\"\nmissing = [\"left wing\", \"right leg\"]",
        "missing = [\"right drumstick\"]\nstuffing = \"10 g\"\nstuffing_density = \"600 kg/m3\"\ngiblets = "
        "\"5 g\""};
    const std::vector<std::string> of_joints = {""};
    for (const body::ShapeKind& kind : body::shape_kinds()) {
        const double mass_kg = std::sqrt(kind.least_kg * kind.greatest_kg);
        for (const std::string& state : body::is_bird(kind.name) ? of_birds : of_joints) {
            SCOPED_TRACE(kind.name + '\n' + state);
            const TemporaryFolder folder;
            const std::string item =
                "shape = \"" + kind.name + "\"\nmass = \"" + std::to_string(mass_kg) + " kg\"\n";
            const Assembly load =
                read_load(folder.write("load.toml", load_of_shape(item + state)), folder.path());
            const Analysis analysis = analyse(load);
            EXPECT_GT(analysis.balance.mass_kg, mass_kg);
            EXPECT_EQ(analysis.verdict, Level::stop) << "no fork holds it";
            const auto told = [&](const std::string& what) {
                return std::any_of(analysis.findings.begin(), analysis.findings.end(), [&](const Finding& f) {
                    return finding_text(f, load, UnitSystem::metric).find(what) != std::string::npos;
                });
            };
            const bool filled = state.find("giblets") != std::string::npos;
            EXPECT_EQ(told("The giblets"), filled);
            EXPECT_EQ(told("must reach 165 °F"), filled);
            EXPECT_EQ(told("The wings of"), state == of_birds[1]);
            EXPECT_EQ(told(" free and flop"), state.find("trussing") != std::string::npos);
        }
    }
}

}  // namespace
}  // namespace evenspit
