// SPDX-License-Identifier: MIT
#include "load/load_file.h"

#include <cmath>
#include <numbers>
#include <ostream>
#include <random>
#include <string>
#include <tuple>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geometry/mesh_io.h"
#include "load/load_edit.h"
#include "load/load_fixture.h"

namespace evenspit {
namespace {

using test::line_of;
using test::small_load;
using test::with;
using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double pi = std::numbers::pi;

// --- every key, in SI ---

class LoadFile : public test::LoadTest {};

TEST_F(LoadFile, ReadsRodMotorAndCookerInSi) {
    const Assembly assembly = read(small_load);
    EXPECT_EQ(assembly.title, "Supper of the ferry crew");
    EXPECT_EQ(assembly.file, (folder_ / "load.toml").string());

    EXPECT_EQ(assembly.rod.section, Section::square);
    EXPECT_DOUBLE_EQ(assembly.rod.width_m, 0.008);
    EXPECT_DOUBLE_EQ(assembly.rod.length_m, 0.76);
    EXPECT_THAT(assembly.rod.supports_m, ElementsAre(0.02, 0.66));
    EXPECT_THAT(assembly.rod.usable_m, ElementsAre(0.06, 0.62));
    EXPECT_DOUBLE_EQ(assembly.rod.material.youngs_modulus_pa, 200e9);
    EXPECT_DOUBLE_EQ(assembly.rod.material.yield_strength_pa, 190e6);
    EXPECT_DOUBLE_EQ(assembly.rod.material.density_kg_m3, 7900);
    EXPECT_THAT(assembly.rod.material.hot, IsEmpty());

    EXPECT_EQ(assembly.motor.kind, MotorKind::dc);
    EXPECT_DOUBLE_EQ(assembly.motor.rated_torque_n_m, 2.5);
    EXPECT_DOUBLE_EQ(assembly.motor.stall_torque_n_m, 5);
    EXPECT_DOUBLE_EQ(assembly.motor.speed_rad_s, 0.1 * pi);
    EXPECT_DOUBLE_EQ(assembly.motor.support_friction, 0.12);
    EXPECT_EQ(assembly.motor.friction_torque_n_m, std::nullopt);

    ASSERT_EQ(assembly.cooker.surfaces.size(), 2U);
    const CookerSurface& coal = assembly.cooker.surfaces[0];
    EXPECT_EQ(coal.name, "coal bed");
    EXPECT_TRUE(coal.fire);
    EXPECT_DOUBLE_EQ(coal.keep_m, 0.05);
    EXPECT_DOUBLE_EQ(coal.temperature_k.value(), 973.15);
    const auto& box = std::get<BoxShape>(coal.shape);
    EXPECT_TRUE(box.min.isApprox(Vec3(0.15, -0.15, -0.3)));
    EXPECT_TRUE(box.max.isApprox(Vec3(0.53, 0.15, -0.22)));
    EXPECT_THAT(assembly.remarks, IsEmpty());
}

TEST_F(LoadFile, ReadsAScannedItemInSi) {
    const Assembly assembly = read(small_load);
    ASSERT_EQ(assembly.items.size(), 1U);
    const Item& item = assembly.items[0];
    EXPECT_EQ(item.name, "roast");
    ASSERT_NE(item.body, nullptr);
    EXPECT_NEAR(item.body->volume_m3, 0.3 * 0.12 * 0.1, 1e-15);
    EXPECT_NEAR(item.body->mass.amount, 3.6, 1e-12);
    EXPECT_EQ(item.body->body.mass_model, body::MassModel::scale_weight);
    EXPECT_DOUBLE_EQ(item.seat.at_m, 0.34);
    EXPECT_EQ(item.seat.facing, Facing::point);
    EXPECT_EQ(item.seat.turn_rad, 0);
    EXPECT_TRUE(item.seat.line.from.isApprox(Vec2(0.004, -0.006)));
    EXPECT_TRUE(item.seat.line.to.isApprox(Vec2(0.002, -0.001)));
    EXPECT_TRUE(item.pose.isApprox(seat_pose(item.seat, -0.15, 0.15), 1e-12));
    EXPECT_TRUE(item.trussed);
    EXPECT_FALSE(item.bird);
    EXPECT_TRUE(item.evaporation);
    EXPECT_EQ(item.bearing_strength_pa, std::nullopt);
}

TEST_F(LoadFile, ReadsTheItemsFurtherKeys) {
    const Assembly assembly = read(with(small_load, "[[fork]]", R"toml(facing = "drive"
turn = "30 deg"
trussed = false
frame = "file"
clean = false
bearing_strength = "120 kPa"
conductivity = "0.5 W/(m K)"
specific_heat = "3500 J/(kg K)"
evaporation = false
[[item.probe]]
name = "middle"
at = ["40 mm", "30 mm", "20 mm"]

[[fork]])toml"));
    const Item& item = assembly.items[0];
    EXPECT_EQ(item.seat.facing, Facing::drive);
    EXPECT_DOUBLE_EQ(item.seat.turn_rad, pi / 6);
    EXPECT_FALSE(item.trussed);
    EXPECT_DOUBLE_EQ(item.bearing_strength_pa.value(), 120e3);
    EXPECT_DOUBLE_EQ(item.conductivity_w_m_k.value(), 0.5);
    EXPECT_DOUBLE_EQ(item.specific_heat_j_kg_k.value(), 3500);
    EXPECT_FALSE(item.evaporation);
    ASSERT_EQ(item.probes.size(), 1U);
    EXPECT_EQ(item.probes[0].name, "middle");
    EXPECT_TRUE(item.probes[0].at.isApprox(Vec3(0.04, 0.03, 0.02)));
}

TEST_F(LoadFile, TellsOfPullTemperaturesThatNothingWaitsFor) {
    const Assembly assembly = read(with(small_load, "core =", "breast ="));
    ASSERT_EQ(assembly.remarks.size(), 1U);
    EXPECT_THAT(assembly.remarks[0], HasSubstr("No item has a breast"));
}

TEST_F(LoadFile, TellsThatWithoutATemperatureNoCookIsComputed) {
    const Assembly assembly = read(with(small_load, "cooker_temperature = \"300 degF\"", "radiation = true"));
    const auto tells = [](const std::string& remark) { return remark.find("not computed") != remark.npos; };
    EXPECT_TRUE(std::any_of(assembly.remarks.begin(), assembly.remarks.end(), tells));
}

TEST_F(LoadFile, ReadsATextThatStandsInNoFile) {
    const Assembly assembly = read_load_text(small_load, folder_ / "unsaved.toml", test::models_folder());
    EXPECT_EQ(assembly.title, "Supper of the ferry crew");
    EXPECT_EQ(assembly.file, (folder_ / "unsaved.toml").string());
    EXPECT_NEAR(assembly.items[0].body->volume_m3, 0.3 * 0.12 * 0.1, 1e-15) << "beside the file: box.off";
    EXPECT_FALSE(std::filesystem::exists(folder_ / "unsaved.toml"));
}

// What is moved in memory, written, and read again is the same to the last bit.
TEST_F(LoadFile, ReadsBackWhatWasEdited) {
    std::mt19937 random(7);
    const auto draw = [&random](double most) {
        return most * (static_cast<double>(random()) / 4294967296.0);
    };
    const Assembly before = read(small_load);
    for (int i = 0; i < 20; ++i) {
        Assembly after = before;
        Seat& seat = after.items[0].seat;
        seat = {.at_m = draw(0.6),
                .facing = i % 2 == 0 ? Facing::drive : Facing::point,
                .turn_rad = draw(6),
                .line = {.from = {draw(0.02), -draw(0.02)}, .to = {-draw(0.02), draw(0.02)}}};
        Fork& fork = after.forks[0];
        fork.at_m = draw(0.6);
        fork.clock_rad = draw(6);
        fork.points = i % 3 == 0 ? Facing::drive : Facing::point;
        after.counterweights[0].at_m = draw(0.6);
        after.counterweights[0].clock_rad = draw(6);
        if (i % 4 == 0) after.counterweights[0].mass_kg = draw(2);
        if (i % 5 == 0) after.counterweights.push_back({draw(0.6), draw(2), draw(0.1), draw(6), draw(0.05)});
        const Assembly again = read(edited_load(small_load, before, after));
        const Seat& found = again.items[0].seat;
        EXPECT_EQ(found.at_m, seat.at_m);
        EXPECT_EQ(found.facing, seat.facing);
        EXPECT_EQ(found.turn_rad, seat.turn_rad);
        EXPECT_EQ(found.line.from, seat.line.from);
        EXPECT_EQ(found.line.to, seat.line.to);
        EXPECT_EQ(again.forks[0].at_m, fork.at_m);
        EXPECT_EQ(again.forks[0].clock_rad, fork.clock_rad);
        EXPECT_EQ(again.forks[0].points, fork.points);
        ASSERT_EQ(again.counterweights.size(), after.counterweights.size());
        for (std::size_t c = 0; c < after.counterweights.size(); ++c) {
            const Counterweight &a = again.counterweights[c], &b = after.counterweights[c];
            EXPECT_EQ(std::tie(a.at_m, a.mass_kg, a.radius_m, a.clock_rad, a.diameter_m),
                      std::tie(b.at_m, b.mass_kg, b.radius_m, b.clock_rad, b.diameter_m));
        }
    }
}

TEST_F(LoadFile, TurnsAForkAsAWhole) {
    const Assembly assembly =
        read(with(small_load, "points = \"point\"", "points = \"point\"\nclock = \"30 deg\""));
    EXPECT_DOUBLE_EQ(tine_clock(assembly.forks[0], assembly.forks[0].tines[0]), pi / 6);
}

TEST_F(LoadFile, ReadsHowAForkIsHeld) {
    const auto fork = [this](const std::string& keys) {
        return read(with(small_load, "points = \"point\"", "points = \"point\"\n" + keys)).forks[0];
    };
    EXPECT_EQ(fork("").bore, std::nullopt);
    EXPECT_DOUBLE_EQ(fork("").clamp.screw_m, Clamp{}.screw_m);
    EXPECT_DOUBLE_EQ(fork("").clamp.torque_n_m, Clamp{}.torque_n_m);
    EXPECT_EQ(fork("bore = \"round\"").bore, Section::round);
    EXPECT_EQ(fork("bore = \"square\"").bore, Section::square);
    EXPECT_EQ(fork("bore = \"hexagon\"").bore, Section::hexagon);
    const Clamp both = fork("clamp = { screw = \"8 mm\", torque = \"30 kgf cm\" }").clamp;
    EXPECT_DOUBLE_EQ(both.screw_m, 0.008);
    EXPECT_DOUBLE_EQ(both.torque_n_m, 0.3 * 9.80665);
    const Clamp one = fork("clamp = { torque = \"4 N m\" }").clamp;
    EXPECT_DOUBLE_EQ(one.screw_m, Clamp{}.screw_m);
    EXPECT_DOUBLE_EQ(one.torque_n_m, 4);
}

TEST_F(LoadFile, RemarksOnABoreThatDoesNotFitTheRod) {
    const auto remarks = [this](const std::string& section, const std::string& bore) {
        return read(with(with(small_load, "section = \"square\"", "section = \"" + section + "\""),
                         "points = \"point\"", "points = \"point\"\nbore = \"" + bore + "\""))
            .remarks;
    };
    EXPECT_THAT(remarks("square", "square"), IsEmpty());
    EXPECT_THAT(remarks("square", "round"), IsEmpty()) << "it goes over any rod";
    EXPECT_THAT(remarks("round", "square"),
                ElementsAre(HasSubstr("square bore of fork[1] does not fit a round rod")));
}

TEST_F(LoadFile, ReadsHowTheRodRunsAndWhereItIsMarked) {
    const Rod usual = read(small_load).rod;
    EXPECT_TRUE(usual.bushing);
    EXPECT_EQ(usual.mark_m, std::nullopt);
    const Rod rod =
        read(with(small_load, "width = \"8 mm\"", "width = \"8 mm\"\nbushing = false\nmark = \"25 mm\"")).rod;
    EXPECT_FALSE(rod.bushing);
    EXPECT_DOUBLE_EQ(rod.mark_m.value(), 0.025);
}

TEST_F(LoadFile, ReadsTheDrivesPlayAndStiffness) {
    const auto motor = [this](const std::string& keys) {
        return read(with(small_load, "speed = \"3 rpm\"", "speed = \"3 rpm\"\n" + keys)).motor;
    };
    EXPECT_DOUBLE_EQ(motor("").play_rad, 3 * pi / 180);
    EXPECT_EQ(motor("").drive_stiffness_n_m_rad, std::nullopt);
    EXPECT_DOUBLE_EQ(motor("play = \"5 deg\"").play_rad, 5 * pi / 180);
    // Rods that share a motor share its torques, and nothing else.
    EXPECT_EQ(motor("").rods, 1);
    const Motor shared = motor("rods = 6\nplay = \"5 deg\"\ndrive_stiffness = \"40 N m/rad\"");
    EXPECT_EQ(shared.rods, 6);
    EXPECT_DOUBLE_EQ(shared.rated_torque_n_m, 2.5 / 6);
    EXPECT_DOUBLE_EQ(shared.stall_torque_n_m, 5.0 / 6);
    EXPECT_DOUBLE_EQ(shared.speed_rad_s, motor("").speed_rad_s);
    EXPECT_DOUBLE_EQ(shared.play_rad, 5 * pi / 180);
    EXPECT_DOUBLE_EQ(shared.drive_stiffness_n_m_rad.value(), 40);
    EXPECT_EQ(motor("play = \"0 deg\"").play_rad, 0);
    EXPECT_DOUBLE_EQ(motor("drive_stiffness = \"40 N m/rad\"").drive_stiffness_n_m_rad.value(), 40);
    EXPECT_DOUBLE_EQ(motor("drive_stiffness = \"2 N m/deg\"").drive_stiffness_n_m_rad.value(), 360 / pi);
}

TEST_F(LoadFile, RemarksOnABirdWhoseTrussingIsNotGiven) {
    const auto remarks = [this](const std::string& keys) {
        return read(with(small_load, "scan = \"box.off\"\nscan_unit = \"mm\"\nmass = \"3.6 kg\"", keys))
            .remarks;
    };
    const std::string chicken = "shape = \"chicken\"\nmass = \"1.6 kg\"";
    EXPECT_THAT(remarks(chicken), ElementsAre(AllOf(HasSubstr("How roast is trussed is not given"),
                                                    HasSubstr("taken as tied tight"))));
    EXPECT_THAT(remarks(chicken + "\ntrussed = true"), IsEmpty());
    EXPECT_THAT(remarks(chicken + "\ntrussing = \"tight\""), IsEmpty());
    EXPECT_THAT(remarks("shape = \"leg of lamb\"\nmass = \"2.5 kg\""), IsEmpty()) << "nothing to tie";
}

// A scan may keep an origin beside itself: what counts is where the body is.
TEST_F(LoadFile, SetsABodyOnTheRodWhereverItsOriginIs) {
    write("off.off", test::off_text(test::box_mesh(Vec3(850, -60, -50), Vec3(1150, 60, 50))));
    const std::string off = with(small_load, "box.off", "off.off");
    EXPECT_THAT(complaints(with(off, "at = \"340 mm\"", "at = \"-660 mm\"")), IsEmpty());
    const std::vector<Complaint> told = complaints(with(off, "at = \"340 mm\"", "at = \"-1660 mm\""));
    ASSERT_EQ(told.size(), 1U);
    EXPECT_EQ(told[0].key, "item[1].at");
    EXPECT_THAT(told[0].found, HasSubstr("-1.66 m"));
}

// Nothing that a person writes about spreads, drive, rod and forks is lost when a plan is written back.
TEST_F(LoadFile, WritesBackBesideKeysThatItLeavesAlone) {
    std::string text = with(small_load, "speed = \"3 rpm\"",
                            "speed = \"3 rpm\"\nplay = \"5 deg\"   # worn\ndrive_stiffness = \"40 N m/rad\"");
    text = with(text, "width = \"8 mm\"",
                "width = \"8 mm\"\ntemperature = \"150 degC\"\nbushing = false\nmark = \"25 mm\"");
    text = with(text, "points = \"point\"",
                "points = \"point\"\nbore = \"round\"\nclamp = { screw = \"8 mm\", torque = \"3 N m\" }");
    text += "\n[spread]  # measured twice\nrod_line = \"2 mm\"\nlimb_loose = \"5 %\"\n";
    const Assembly before = read(text);
    EXPECT_EQ(edited_load(text, before, before), text);

    Assembly after = before;
    after.items[0].seat.turn_rad = pi / 6;
    after.forks[0].at_m = 0.2;
    after.forks[0].clock_rad = pi / 2;
    after.counterweights.clear();
    const std::string edited = edited_load(text, before, after);
    EXPECT_NE(edited, text);
    for (const char* kept : {"play = \"5 deg\"   # worn\n", "drive_stiffness = \"40 N m/rad\"\n",
                             "temperature = \"150 degC\"\n", "bushing = false\n", "mark = \"25 mm\"\n",
                             "bore = \"round\"\n", "clamp = { screw = \"8 mm\", torque = \"3 N m\" }\n",
                             "[spread]  # measured twice\nrod_line = \"2 mm\"\nlimb_loose = \"5 %\"\n"}) {
        EXPECT_THAT(edited, HasSubstr(kept));
    }
    const Assembly again = read(edited);
    EXPECT_EQ(again.spread.rod_line_m, before.spread.rod_line_m);
    EXPECT_EQ(again.forks[0].bore, Section::round);
    EXPECT_EQ(again.forks[0].clamp.torque_n_m, 3);
}

TEST_F(LoadFile, ReadsForksWeightsStockAndCookInSi) {
    const Assembly assembly = read(with(small_load, "serve = \"18:30\"", R"toml(serve = "18:30"
start_temperature = "4 degC"
convection_coefficient = "25 W/(m2 K)"
radiation = false
duration = "3 h")toml"));
    ASSERT_EQ(assembly.forks.size(), 1U);
    EXPECT_DOUBLE_EQ(assembly.forks[0].at_m, 0.19);
    EXPECT_EQ(assembly.forks[0].points, Facing::point);
    EXPECT_DOUBLE_EQ(assembly.forks[0].mass_kg, 0.16);
    ASSERT_EQ(assembly.forks[0].tines.size(), 1U);
    EXPECT_EQ(assembly.forks[0].tines[0].clock_rad, 0);
    EXPECT_DOUBLE_EQ(assembly.forks[0].tines[0].radius_m, 0.032);
    EXPECT_DOUBLE_EQ(assembly.forks[0].tines[0].length_m, 0.095);
    EXPECT_DOUBLE_EQ(assembly.forks[0].tines[0].diameter_m, 0.005);

    ASSERT_EQ(assembly.counterweights.size(), 1U);
    EXPECT_DOUBLE_EQ(assembly.counterweights[0].at_m, 0.09);
    EXPECT_DOUBLE_EQ(assembly.counterweights[0].mass_kg, 0.3);
    EXPECT_DOUBLE_EQ(assembly.counterweights[0].radius_m, 0.07);
    EXPECT_DOUBLE_EQ(assembly.counterweights[0].clock_rad, 210 * pi / 180);
    EXPECT_DOUBLE_EQ(assembly.counterweights[0].diameter_m, 0.04);

    ASSERT_EQ(assembly.stock.size(), 1U);
    EXPECT_DOUBLE_EQ(assembly.stock[0].mass_kg, 0.3);
    EXPECT_DOUBLE_EQ(assembly.stock[0].radius_min_m, 0.04);
    EXPECT_DOUBLE_EQ(assembly.stock[0].radius_max_m, 0.11);
    EXPECT_DOUBLE_EQ(assembly.stock[0].diameter_m, 0.04);

    EXPECT_DOUBLE_EQ(assembly.cook.value().cooker_temperature_k.value(), 759.67 / 1.8);
    EXPECT_DOUBLE_EQ(assembly.cook.value().start_temperature_k.value(), 277.15);
    EXPECT_DOUBLE_EQ(assembly.cook.value().pull_k.at("core"), 621.67 / 1.8);
    EXPECT_DOUBLE_EQ(assembly.cook.value().serve_s.value(), 18.5 * 3600);
    EXPECT_DOUBLE_EQ(assembly.cook.value().convection_coefficient_w_m2_k.value(), 25);
    EXPECT_FALSE(assembly.cook.value().radiation);
    EXPECT_DOUBLE_EQ(assembly.cook.value().duration_s.value(), 10800);
}

TEST_F(LoadFile, ReadsEveryShapeOfSurface) {
    write("wall.off", test::off_text(test::box_mesh(Vec3(0, 0, -400), Vec3(600, 10, 0))));
    const Assembly assembly = read(with(small_load, "[[item]]", R"([[cooker.surface]]
name = "table"
shape = "plane"
point = ["0 mm", "0 mm", "-400 mm"]
normal = [0, 3, 4.0]
keep = "10 mm"

[[cooker.surface]]
name = "dome"
shape = "revolved"
centre = ["340 mm", "0 mm", "-50 mm"]
profile = [["250 mm", "0 mm"], ["0 mm", "250 mm"]]

[[cooker.surface]]
name = "wall"
shape = "mesh"
file = "wall.off"
unit = "mm"

[[item]])"));
    const auto& surfaces = assembly.cooker.surfaces;
    ASSERT_EQ(surfaces.size(), 5U);
    const auto& plane = std::get<PlaneShape>(surfaces[2].shape);
    EXPECT_TRUE(plane.point.isApprox(Vec3(0, 0, -0.4)));
    EXPECT_TRUE(plane.normal.isApprox(Vec3(0, 0.6, 0.8)));
    EXPECT_DOUBLE_EQ(surfaces[2].keep_m, 0.01);
    EXPECT_FALSE(surfaces[2].fire);
    const auto& dome = std::get<RevolvedShape>(surfaces[3].shape);
    EXPECT_TRUE(dome.centre.isApprox(Vec3(0.34, 0, -0.05)));
    ASSERT_EQ(dome.profile.size(), 2U);
    EXPECT_TRUE(dome.profile[0].isApprox(Vec2(0.25, 0)));
    EXPECT_TRUE(dome.profile[1].isApprox(Vec2(0, 0.25)));
    EXPECT_DOUBLE_EQ(surfaces[3].keep_m, 0.025);
    EXPECT_EQ(surfaces[3].temperature_k, std::nullopt);
    const auto& wall = std::get<MeshShape>(surfaces[4].shape);
    EXPECT_TRUE(bounds(*wall.mesh).max().isApprox(Vec3(0.6, 0.01, 0)));
}

TEST_F(LoadFile, ReadsAScanInItsUnitAndScale) {
    EXPECT_NEAR(read(with(small_load, R"(scan_unit = "mm")", R"(scan_unit = "cm"
scale = 0.2)"))
                    .items[0]
                    .body->volume_m3,
                0.0036 * 8, 1e-12);
    write("metres.off", test::off_text(test::box_mesh(Vec3(-0.15, -0.06, -0.05), Vec3(0.15, 0.06, 0.05))));
    EXPECT_NEAR(read(with(small_load, "scan = \"box.off\"\nscan_unit = \"mm\"", "scan = \"metres.off\""))
                    .items[0]
                    .body->volume_m3,
                0.0036, 1e-15);
}

TEST_F(LoadFile, TurnsAScanToItsOwnAxesOnRequest) {
    // The box stands on end in the file; its longest axis becomes x.
    write("box.off", test::off_text(test::box_mesh(Vec3(0, 0, 0), Vec3(100, 120, 300))));
    const Item item =
        read(with(small_load, "mass = \"3.6 kg\"", "mass = \"3.6 kg\"\nframe = \"auto\"")).items[0];
    EXPECT_TRUE(item.body->bounds.sizes().isApprox(Vec3(0.3, 0.12, 0.1), 1e-9));
    EXPECT_NEAR(item.body->mass.centre.norm(), 0, 1e-9);
}

TEST_F(LoadFile, TakesMassFromDensityWhereThereIsNoMass) {
    const Assembly assembly = read(with(small_load, "mass = \"3.6 kg\"", "density = \"1050 kg/m3\""));
    EXPECT_NEAR(assembly.items[0].body->mass.amount, 3.78, 1e-12);
    EXPECT_EQ(assembly.items[0].body->body.mass_model, body::MassModel::density_and_volume);
}

TEST_F(LoadFile, LetsMassWinOverDensityAndSaysSoWhereTheyDisagree) {
    const auto both = [](const std::string& density) {
        return with(small_load, "mass = \"3.6 kg\"", "mass = \"3.6 kg\"\ndensity = \"" + density + "\"");
    };
    const Assembly near = read(both("1040 kg/m3"));
    EXPECT_NEAR(near.items[0].body->mass.amount, 3.6, 1e-12);
    EXPECT_THAT(near.remarks, IsEmpty());
    const Assembly far = read(both("900 kg/m3"));
    EXPECT_NEAR(far.items[0].body->mass.amount, 3.6, 1e-12);
    EXPECT_THAT(far.remarks,
                ElementsAre(AllOf(HasSubstr("disagree"), HasSubstr("1000 kg/m³"), HasSubstr("900 kg/m³"))));
}

TEST_F(LoadFile, NamesThingsThatHaveNoName) {
    const std::string nameless =
        with(with(small_load, "title = \"Supper of the ferry crew\"\n", ""), "name = \"roast\"\n", "");
    const Assembly assembly = read(nameless);
    EXPECT_EQ(assembly.title, "load");
    EXPECT_EQ(assembly.items[0].name, "box");
}

// Two that are told by one name could not be told apart.
TEST_F(LoadFile, NumbersNamelessThingsOfOneKind) {
    const std::string three = with(small_load, "[[fork]]", R"([[item]]
shape = "quail"
mass = "180 g"
at = "120 mm"

[[item]]
name = "quail 7"
shape = "quail"
mass = "180 g"
at = "540 mm"

[[item]]
shape = "quail"
mass = "200 g"
at = "580 mm"

[[fork]])");
    const Assembly assembly = read(three);
    std::vector<std::string> names;
    for (const Item& item : assembly.items) names.push_back(item.name);
    EXPECT_THAT(names, ElementsAre("roast", "quail 1", "quail 7", "quail 2"));
    EXPECT_EQ(assembly.items[3].body->body.name, "quail 2");
}

TEST_F(LoadFile, RemarksOnWhatItAssumes) {
    EXPECT_THAT(read(with(small_load, "support_friction = 0.12\n", "")).remarks,
                ElementsAre(AllOf(HasSubstr("taken as 0.15"), HasSubstr("common practice"))));
    EXPECT_THAT(read(with(small_load, "kind = \"dc\"\n", "")).remarks,
                ElementsAre(HasSubstr("taken as a dc motor")));
    const std::string cookerless =
        with(small_load,
             small_load.substr(small_load.find("[cooker]"),
                               small_load.find("[[item]]") - small_load.find("[cooker]")),
             "");
    EXPECT_THAT(read(cookerless).remarks, ElementsAre(HasSubstr("no clearance is computed")));
}

TEST_F(LoadFile, TakesFrictionAsATorque) {
    const Assembly assembly =
        read(with(small_load, "support_friction = 0.12", "friction_torque = \"0.05 N m\""));
    EXPECT_DOUBLE_EQ(assembly.motor.friction_torque_n_m.value(), 0.05);
    EXPECT_THAT(assembly.remarks, IsEmpty());
}

// --- models ---

const std::string own_material = R"(youngs_modulus = "200 GPa"
yield_strength = "190 MPa"
density = "7900 kg/m3")";

TEST_F(LoadFile, ReducesANamedMaterialToTheCookersTemperature) {
    const Assembly assembly = read(with(small_load, own_material, "material = \"stainless steel\""));
    EXPECT_DOUBLE_EQ(assembly.rod.temperature_k, 759.67 / 1.8);
    // EN 1993-1-2 table C.1, 1.4301: at 100 °C 0.96 and 0.82, at 200 °C 0.92 and 0.68; 300 °F lie 48.889 % of
    // the way.
    const double share = (300 - 32) / 1.8 / 100 - 1;
    EXPECT_NEAR(assembly.rod.material.modulus_at(assembly.rod.temperature_k), (0.96 - 0.04 * share) * 200e9,
                1);
    EXPECT_NEAR(assembly.rod.material.yield_at(assembly.rod.temperature_k), (0.82 - 0.14 * share) * 190e6,
                1e-3);
    EXPECT_THAT(assembly.remarks, IsEmpty());
}

TEST_F(LoadFile, ReducesANamedMaterialToTheRodsOwnTemperature) {
    const Assembly assembly =
        read(with(small_load, own_material, "material = \"stainless steel\"\ntemperature = \"300 degC\""));
    EXPECT_DOUBLE_EQ(assembly.rod.temperature_k, 573.15);
    EXPECT_NEAR(assembly.rod.material.modulus_at(573.15), 176e9, 1);
}

TEST_F(LoadFile, TakesTheRodAsHotAndSaysSo) {
    const std::string untold = with(small_load, "cooker_temperature = \"300 degF\"\n", "");
    const Assembly named = read(with(untold, own_material, "material = \"carbon steel\""));
    EXPECT_DOUBLE_EQ(named.rod.temperature_k, 533.15);
    // EN 1993-1-2 table 3.1: kE is 0.90 at 200 °C and 0.80 at 300 °C.
    EXPECT_NEAR(named.rod.material.modulus_at(named.rod.temperature_k), 0.84 * 210e9, 1);
    EXPECT_THAT(named.remarks,
                Contains(AllOf(HasSubstr("taken as hot (260 °C"), HasSubstr("rod.temperature"))));
    // Figures of its own stand as they are: nothing is assumed.
    EXPECT_THAT(read(untold).remarks, Not(Contains(HasSubstr("taken as hot"))));
    // Nor is there anything to assume where a temperature is given.
    const Assembly told =
        read(with(untold, own_material, "material = \"carbon steel\"\ntemperature = \"20 degC\""));
    EXPECT_DOUBLE_EQ(told.rod.temperature_k, 293.15);
    EXPECT_THAT(told.remarks, Not(Contains(HasSubstr("taken as hot"))));
}

TEST_F(LoadFile, LetsFiguresBesideAMaterialStandAsTheyAre) {
    const Material material =
        read(with(small_load, own_material, "material = \"stainless steel\"\nyield_strength = \"400 MPa\""))
            .rod.material;
    EXPECT_DOUBLE_EQ(material.yield_at(573.15), 400e6);
    EXPECT_NEAR(material.modulus_at(573.15), 176e9, 1);
    EXPECT_DOUBLE_EQ(material.density_kg_m3, 7900);
}

TEST_F(LoadFile, LaysKeysOverAModel) {
    const std::string rod = small_load.substr(small_load.find("section ="),
                                              small_load.find("[motor]") - small_load.find("section ="));
    const Assembly assembly =
        read(with(small_load, rod, "model = \"square-8mm\"\nlength = \"800 mm\"\n" + own_material + "\n"));
    EXPECT_DOUBLE_EQ(assembly.rod.width_m, 0.008);
    EXPECT_DOUBLE_EQ(assembly.rod.length_m, 0.8);
    EXPECT_DOUBLE_EQ(assembly.rod.material.modulus_at(573.15), 200e9);
}

// Down into the tables that a model has: what is left out of one comes from the model, too.
TEST_F(LoadFile, LaysAForksClampOverThatOfItsModel) {
    write("models/forks/f.toml",
          "about = \"a fork\"\nmass = \"160 g\"\nbore = \"round\"\n"
          "clamp = { screw = \"8 mm\", torque = \"3 N m\" }\n"
          "tine = [ { clock = \"0 deg\", radius = \"32 mm\", length = \"95 mm\", diameter = \"5 mm\" } ]\n");
    const std::string fork =
        small_load.substr(small_load.find("mass = \"160 g\""),
                          small_load.find("[[counterweight]]") - small_load.find("mass = \"160 g\""));
    const auto of = [&](const std::string& keys) {
        return read(with(small_load, fork, "model = \"f\"\n" + keys), folder_ / "models").forks[0];
    };
    EXPECT_EQ(of("").bore, Section::round);
    EXPECT_DOUBLE_EQ(of("").clamp.screw_m, 0.008);
    EXPECT_DOUBLE_EQ(of("").clamp.torque_n_m, 3);
    const Fork own = of("bore = \"square\"\nclamp = { torque = \"1 N m\" }\n");
    EXPECT_EQ(own.bore, Section::square);
    EXPECT_DOUBLE_EQ(own.clamp.screw_m, 0.008);
    EXPECT_DOUBLE_EQ(own.clamp.torque_n_m, 1);
}

TEST_F(LoadFile, LetsAMaterialDisplaceTheFiguresOfAModel) {
    write("models/rods/odd.toml",
          "about = \"a rod\"\nsection = \"round\"\nwidth = \"9 mm\"\nlength = \"760 mm\"\nsupports = [\"20 "
          "mm\", \"660 mm\"]\n"
          "usable = [\"60 mm\", \"620 mm\"]\n" +
              own_material + "\n");
    write("models/materials/soft.toml",
          "about = \"soft\"\nyoungs_modulus = \"70 GPa\"\nyield_strength = \"90 MPa\"\ndensity = \"2700 "
          "kg/m3\"\n");
    const std::string rod = small_load.substr(small_load.find("section ="),
                                              small_load.find("[motor]") - small_load.find("section ="));
    const Assembly assembly =
        read(with(small_load, rod, "model = \"odd\"\nmaterial = \"Soft\"\n"), folder_ / "models");
    EXPECT_DOUBLE_EQ(assembly.rod.material.youngs_modulus_pa, 70e9);
    EXPECT_DOUBLE_EQ(assembly.rod.material.density_kg_m3, 2700);
}

TEST_F(LoadFile, LetsOneKindOfFrictionDisplaceTheOtherOfAModel) {
    write("models/motors/m.toml",
          "about = \"a motor\"\nkind = \"synchronous\"\nrated_torque = \"1 N m\"\nstall_torque = \"2 N "
          "m\"\nspeed = \"3 rpm\"\n"
          "friction_torque = \"0.05 N m\"\n");
    const std::string motor =
        small_load.substr(small_load.find("kind ="), small_load.find("[cooker]") - small_load.find("kind ="));
    const Assembly own =
        read(with(small_load, motor, "model = \"m\"\nsupport_friction = 0.2\n"), folder_ / "models");
    EXPECT_EQ(own.motor.friction_torque_n_m, std::nullopt);
    EXPECT_DOUBLE_EQ(own.motor.support_friction, 0.2);
    EXPECT_EQ(own.motor.kind, MotorKind::synchronous);
    EXPECT_EQ(own.motor.name, "m");
    const Assembly models = read(with(small_load, motor, "model = \"m\"\n"), folder_ / "models");
    EXPECT_DOUBLE_EQ(models.motor.friction_torque_n_m.value(), 0.05);
}

TEST_F(LoadFile, AddsSurfacesToThoseOfAModelOrReplacesThem) {
    const Assembly assembly = read(with(small_load, "[cooker]\n", "[cooker]\nmodel = \"ceramic-46\"\n"));
    // The coal bed of the load stands in the place of the model's.
    ASSERT_EQ(assembly.cooker.surfaces.size(), 4U);
    EXPECT_EQ(assembly.cooker.name, "ceramic-46");
    EXPECT_EQ(assembly.cooker.surfaces[0].name, "coal bed");
    EXPECT_DOUBLE_EQ(std::get<BoxShape>(assembly.cooker.surfaces[0].shape).max.z(), -0.22);
}

TEST_F(LoadFile, LooksForAModelsMeshBesideTheModel) {
    write("models/cookers/c.toml",
          "about = \"a cooker\"\n[[surface]]\nname = \"wall\"\nshape = \"mesh\"\nfile = \"wall.off\"\n");
    write("models/cookers/wall.off", test::off_text(test::box_mesh(Vec3(0, 0, -0.4), Vec3(0.6, 0.01, 0))));
    const Assembly assembly =
        read(with(small_load, "[cooker]\n", "[cooker]\nmodel = \"c\"\n"), folder_ / "models");
    EXPECT_EQ(std::get<MeshShape>(assembly.cooker.surfaces[0].shape).mesh->triangles.size(), 12U);
}

TEST_F(LoadFile, TellsWhatIsWrongInsideAModel) {
    write("models/motors/m.toml",
          "about = \"a motor\"\nkind = \"dc\"\nrated_torqe = \"1 N m\"\nstall_torque = \"2 N\"\nspeed = \"3 "
          "rpm\"\n");
    try {
        [[maybe_unused]] const Assembly assembly =
            read(with(small_load,
                      small_load.substr(small_load.find("kind ="),
                                        small_load.find("[cooker]") - small_load.find("kind =")),
                      "model = \"m\"\n"),
                 folder_ / "models");
        FAIL();
    } catch (const InputError& error) {
        EXPECT_THAT(
            error.what(),
            HasSubstr("m.toml:3:1: motor.rated_torqe: found an unknown key; expected 'rated_torque'"));
        EXPECT_THAT(error.what(),
                    HasSubstr("m.toml:4:16: motor.stall_torque: found '2 N', a force; expected a torque"));
        EXPECT_THAT(error.what(), HasSubstr("load.toml:13:1: motor.rated_torque: found nothing"));
    }
}

TEST_F(LoadFile, TellsABrokenModelFile) {
    write("models/motors/m.toml", "about = \n");
    try {
        [[maybe_unused]] const Assembly assembly =
            read(with(small_load,
                      small_load.substr(small_load.find("kind ="),
                                        small_load.find("[cooker]") - small_load.find("kind =")),
                      "model = \"m\"\n"),
                 folder_ / "models");
        FAIL();
    } catch (const InputError& error) {
        ASSERT_EQ(error.complaints().size(), 1U) << error.what();
        EXPECT_THAT(error.what(), HasSubstr("m.toml:1:"));
    }
}

// --- what is told ---

// A change to the small load and what is said about it: one complaint, at the line of `at` (the first line of
// `fresh` if empty).
struct Mistake {
    const char* name;
    const char* old;
    const char* fresh;
    const char* key;
    const char* found;
    const char* expected;
    const char* mend;
    const char* at = "";
};

void PrintTo(const Mistake& mistake, std::ostream* out) {
    *out << mistake.name;
}

class Tells : public test::LoadTest, public testing::WithParamInterface<Mistake> {};

TEST_P(Tells, WhatIsWrongAndHowToMendIt) {
    const Mistake& mistake = GetParam();
    // A scan with a hole, a tiny and a huge one, and one that is no mesh.
    TriangleMesh open = test::box_mesh(Vec3(-150, -60, -50), Vec3(150, 60, 50));
    open.triangles.pop_back();
    write("open.off", test::off_text(open));
    write("tiny.off", test::off_text(test::box_mesh(Vec3(-1e-3, -1e-3, -1e-3), Vec3(1e-3, 1e-3, 1e-3))));
    write("inches.off", test::off_text(test::box_mesh(Vec3(-6, -2, -2), Vec3(6, 2, 2))));
    write("not.off", "goose\n");
    write("scan.stp", "goose\n");

    const std::string text = with(small_load, mistake.old, mistake.fresh);
    const std::vector<Complaint> told = complaints(text);
    ASSERT_EQ(told.size(), 1U) << (told.empty() ? "" : InputError(told).what());
    EXPECT_EQ(told[0].spot.file, (folder_ / "load.toml").string());
    EXPECT_EQ(told[0].spot.line, line_of(text, *mistake.at == '\0' ? mistake.fresh : mistake.at));
    EXPECT_GT(told[0].spot.column, 0);
    EXPECT_EQ(told[0].key, mistake.key);
    EXPECT_THAT(told[0].found, HasSubstr(mistake.found));
    EXPECT_THAT(told[0].expected, HasSubstr(mistake.expected));
    EXPECT_THAT(told[0].mend, HasSubstr(mistake.mend));
}

std::string name_of(const testing::TestParamInfo<Mistake>& info) {
    return info.param.name;
}

INSTANTIATE_TEST_SUITE_P(
    Quantities, Tells,
    testing::Values(
        Mistake{"bare_number", R"(width = "8 mm")", "width = 8", "rod.width", "'8', a number without a unit",
                "a length above zero", R"("8 mm" or "8 in")"},
        Mistake{"dimension", R"(mass = "3.6 kg")", R"(mass = "13 in")", "item[1].mass", "'13 in', a length",
                "a mass above zero", R"("5.9 kg")"},
        Mistake{"unknown_unit", R"(speed = "3 rpm")", R"(speed = "3 rmp")", "motor.speed",
                "unknown unit 'rmp'", "a speed of turning above zero", "did you mean 'rpm'?"},
        Mistake{"negative_mass", R"(mass = "3.6 kg")", R"(mass = "-3.6 kg")", "item[1].mass", "'-3.6 kg'",
                "a mass above zero", ""},
        Mistake{"zero_width", R"(width = "8 mm")", R"(width = "0 mm")", "rod.width", "'0 mm'",
                "a length above zero", ""},
        Mistake{"boolean_quantity", R"(width = "8 mm")", "width = true", "rod.width", "true",
                "a length above zero", R"("8 mm")"},
        Mistake{"quantity_for_a_number", "support_friction = 0.12", R"(support_friction = "0.12")",
                "motor.support_friction", "'0.12'", "a plain number not below zero", "without quotes"},
        Mistake{"infinite_number", "support_friction = 0.12", "support_friction = inf",
                "motor.support_friction", "inf", "a plain number not below zero", ""},
        Mistake{"number_for_a_text", R"(name = "coal bed")", "name = 5", "cooker.surface[1].name", "5",
                "a text in quotes", ""},
        Mistake{"text_for_a_flag", "fire = true", R"(fire = "yes")", "cooker.surface[1].fire", "'yes'",
                "true or false", ""},
        Mistake{"too_few_of_a_list", R"(usable = ["60 mm", "620 mm"])", R"(usable = ["60 mm"])", "rod.usable",
                "a list of 1 value", "a list of 2 quantities, each a length", "write usable = ["},
        Mistake{"text_for_a_list", R"(usable = ["60 mm", "620 mm"])", R"(usable = "60 mm")", "rod.usable",
                "'60 mm'", "a list of 2 quantities", ""},
        Mistake{"heavier_than_anything", R"(mass = "3.6 kg")", R"(mass = "1e308 kg")", "item[1].mass",
                "'1e308 kg'", "a mass of at most 100000 kg", "check the number and its unit"},
        Mistake{"thinner_than_anything", R"(width = "8 mm")", R"(width = "1e-308 mm")", "rod.width",
                "'1e-308 mm'", "a length of at least 0.001 mm", "check the number and its unit"},
        Mistake{"further_than_anything", R"(at = "340 mm")", R"(at = "-1e300 m")", "item[1].at", "'-1e300 m'",
                "a length of at most 1000 m", "check the number and its unit"},
        Mistake{"larger_than_any_number", "support_friction = 0.12", "support_friction = 1e300",
                "motor.support_friction", "1e+300", "a plain number of at most 1000000", ""},
        Mistake{"bare_number_in_a_list", R"(usable = ["60 mm", "620 mm"])", R"(usable = ["60 mm", 620])",
                "rod.usable[2]", "'620', a number without a unit", "a length", R"("620 mm")"}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Keys, Tells,
    testing::Values(
        Mistake{"unknown_section", "[stock]", "[stok]", "stok", "an unknown key", "'stock'",
                "did you mean 'stock'?"},
        Mistake{"unknown_key", R"(width = "8 mm")", "wdith = \"1 mm\"\nwidth = \"8 mm\"", "rod.wdith",
                "an unknown key", "'width'", "did you mean 'width'?"},
        Mistake{"key_like_none", R"(width = "8 mm")", "colour = \"red\"\nwidth = \"8 mm\"", "rod.colour",
                "an unknown key", "one of: bushing, density, length, mark, material", ""},
        Mistake{"unknown_tine_key", R"(diameter = "5 mm" })", R"(diameter = "5 mm", tip = "sharp" })",
                "fork[1].tine[1].tip", "an unknown key", "one of: clock, diameter, length, radius", ""},
        Mistake{"one_bracket", "[[fork]]", "[fork]", "fork", "a table", "a list of tables",
                "write [[fork]], with two brackets"},
        Mistake{"two_brackets", "[motor]", "[[motor]]", "motor", "a list of 1 value", "one table",
                "write [motor]"},
        Mistake{"list_of_texts",
                R"(tine = [ { clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" } ])",
                R"(tine = ["a"])", "fork[1].tine", "a list of 1 value", "a list of tables",
                "write [[fork.tine]]"},
        Mistake{"text_for_a_table", R"(line = { from = ["4 mm", "-6 mm"], to = ["2 mm", "-1 mm"] })",
                R"(line = "straight")", "item[1].line", "'straight'", "one table", ""},
        Mistake{"unknown_word", R"(section = "square")", R"(section = "sqare")", "rod.section", "'sqare'",
                R"("square", "round" or "hexagon")", R"(did you mean "square"?)"},
        Mistake{"word_like_none", R"(points = "point")", R"(points = "left")", "fork[1].points", "'left'",
                R"("point" or "drive")", ""},
        Mistake{"no_time", R"(serve = "18:30")", R"(serve = "half past six")", "cook.serve",
                "'half past six'", "a time of the day", R"(serve = "18:30")"},
        Mistake{"no_such_hour", R"(serve = "18:30")", R"(serve = "24:00")", "cook.serve", "'24:00'",
                "a time of the day", ""},
        Mistake{"time_without_quotes", R"(serve = "18:30")", "serve = 18:30:00", "cook.serve",
                "18:30:00 (a date or time", "in quotes", ""},
        Mistake{"pull_is_no_temperature", R"(core = "162 degF")", R"(core = "162 lb")", "cook.pull.core",
                "a mass", "a temperature", ""}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Missing, Tells,
    testing::Values(
        Mistake{"rod_section", "section = \"square\"\n", "", "rod.section", "nothing",
                R"("square", "round" or "hexagon")", R"(add section = "square")", "[rod]"},
        Mistake{"rod_width", "width = \"8 mm\"\n", "", "rod.width", "nothing", "a length above zero",
                R"(add width = …, like "8 mm")", "[rod]"},
        Mistake{"rod_supports", "supports = [\"20 mm\", \"660 mm\"]\n", "", "rod.supports", "nothing",
                "a list of 2 quantities", "write supports = [", "[rod]"},
        Mistake{"rod_material",
                "youngs_modulus = \"200 GPa\"\nyield_strength = \"190 MPa\"\ndensity = \"7900 kg/m3\"\n", "",
                "rod.material", "nothing", "a material, or its youngs_modulus", "stainless steel", "[rod]"},
        Mistake{"rod_density", "density = \"7900 kg/m3\"\n", "", "rod.density", "nothing",
                "a density above zero", "add density", "[rod]"},
        Mistake{"motor_torque", "rated_torque = \"2.5 N m\"\n", "", "motor.rated_torque", "nothing",
                "a torque above zero", "add rated_torque", "[motor]"},
        Mistake{"surface_name", "name = \"coal bed\"\n", "", "cooker.surface[1].name", "nothing", "a text",
                "add name", "[[cooker.surface]]"},
        Mistake{"surface_shape", "shape = \"box\"\n", "", "cooker.surface[1].shape", "nothing",
                R"("plane", "box", "revolved" or "mesh")", R"(add shape = "plane")", "[[cooker.surface]]"},
        Mistake{"box_min", "min = [\"150 mm\", \"-150 mm\", \"-300 mm\"]\n", "", "cooker.surface[1].min",
                "nothing", "a list of 3 quantities", "write min = [", "[[cooker.surface]]"},
        Mistake{"item_body", "scan = \"box.off\"\nscan_unit = \"mm\"\n", "", "item[1].shape", "nothing",
                "a shape, or a scan", R"(add shape = "turkey", or scan = "file.ply")", "[[item]]"},
        Mistake{"item_place", "at = \"340 mm\"\n", "", "item[1].at", "nothing", "a length", "add at",
                "[[item]]"},
        Mistake{"line_end", R"(, to = ["2 mm", "-1 mm"])", "", "item[1].line.to", "nothing",
                "a list of 2 quantities", "write to = [", "line = {"},
        Mistake{"shape_mass", "scan = \"box.off\"\nscan_unit = \"mm\"\nmass = \"3.6 kg\"",
                "shape = \"turkey\"", "item[1].mass", "nothing", "a mass above zero", "add mass", "[[item]]"},
        Mistake{"fork_points", "points = \"point\"\n", "", "fork[1].points", "nothing",
                R"("point" or "drive")", "add points", "[[fork]]"},
        Mistake{
            "fork_tines",
            "tine = [ { clock = \"0 deg\", radius = \"32 mm\", length = \"95 mm\", diameter = \"5 mm\" } ]\n",
            "", "fork[1].tine", "nothing", "at least one tine", "add tine = [ {", "[[fork]]"},
        Mistake{"tine_length", R"(, length = "95 mm")", "", "fork[1].tine[1].length", "nothing",
                "a length above zero", "add length", "tine = ["},
        Mistake{"weight_clock", "clock = \"210 deg\"\n", "", "counterweight[1].clock", "nothing", "an angle",
                "add clock", "[[counterweight]]"},
        Mistake{"stock_mass", R"({ mass = "300 g", radius)", "{ radius", "stock.counterweights[1].mass",
                "nothing", "a mass above zero", "add mass"},
        Mistake{"probe_place", "[[fork]]", "[[item.probe]]\nname = \"breast\"\n[[fork]]",
                "item[1].probe[1].at", "nothing", "a list of 3 quantities", "write at = ["}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Ranges, Tells,
    testing::Values(
        Mistake{"supports_turned_round", R"(supports = ["20 mm", "660 mm"])",
                R"(supports = ["660 mm", "20 mm"])", "rod.supports", "['660 mm', '20 mm']",
                "the smaller first", ""},
        Mistake{"supports_off_the_rod", R"(supports = ["20 mm", "660 mm"])",
                R"(supports = ["20 mm", "860 mm"])", "rod.supports", "20 mm to 860 mm",
                "from 0 to its length, 760 mm", ""},
        Mistake{"usable_turned_round", R"(usable = ["60 mm", "620 mm"])", R"(usable = ["620 mm", "60 mm"])",
                "rod.usable", "['620 mm', '60 mm']", "the smaller first", ""},
        Mistake{"usable_off_the_rod", R"(usable = ["60 mm", "620 mm"])", R"(usable = ["-60 mm", "620 mm"])",
                "rod.usable", "-60 mm to 620 mm", "from 0 to its length, 760 mm", ""},
        Mistake{"item_a_street_away", R"(at = "340 mm")", R"(at = "340 m")", "item[1].at", "'340 m'",
                "5 m at most", "check the number and its unit"},
        Mistake{"rod_as_long_as_a_street", R"(length = "760 mm")", R"(length = "760 m")", "rod.length",
                "'760 m'", "5 m at most", "check the number and its unit"},
        Mistake{"support_a_street_away", R"(supports = ["20 mm", "660 mm"])",
                R"(supports = ["20 mm", "660 m"])", "rod.supports[2]", "'660 m'", "5 m at most",
                "check the number and its unit"},
        Mistake{"item_past_the_end", R"(at = "340 mm")", R"(at = "3.4 m")", "item[1].at", "3.4 m",
                "a station on the rod, from 0 to its length, 760 mm", "check the number and its unit"},
        Mistake{"item_before_the_rod", R"(at = "340 mm")", R"(at = "-1 mm")", "item[1].at", "-1 mm",
                "from 0 to its length, 760 mm", ""},
        Mistake{"fork_past_the_end", R"(at = "190 mm")", R"(at = "3 ft 2 in")", "fork[1].at", "965 mm",
                "a station on the rod, from 0 to its length, 760 mm", ""},
        Mistake{"weight_past_the_end", R"(at = "90 mm")", R"(at = "900 mm")", "counterweight[1].at", "900 mm",
                "a station on the rod, from 0 to its length, 760 mm", ""},
        Mistake{"mark_past_the_end", R"(width = "8 mm")", "width = \"8 mm\"\nmark = \"0.8 m\"", "rod.mark",
                "800 mm", "from 0 to its length, 760 mm", "", "mark ="},
        Mistake{"negative_play", R"(speed = "3 rpm")", "speed = \"3 rpm\"\nplay = \"-1 deg\"", "motor.play",
                "'-1 deg'", "an angle not below zero", "", "play ="},
        Mistake{"no_rod_at_all", R"(speed = "3 rpm")", "speed = \"3 rpm\"\nrods = 0", "motor.rods", "0",
                "a whole number from 1 to 200", "rods = 2", "rods ="},
        Mistake{"half_a_rod", R"(speed = "3 rpm")", "speed = \"3 rpm\"\nrods = 2.5", "motor.rods", "2.5",
                "a whole number from 1 to 200", "rods = 2", "rods ="},
        Mistake{"rods_in_quotes", R"(speed = "3 rpm")", "speed = \"3 rpm\"\nrods = \"6\"", "motor.rods",
                "'6'", "a whole number from 1 to 200", "without quotes", "rods ="},
        Mistake{"play_of_a_turn", R"(speed = "3 rpm")", "speed = \"3 rpm\"\nplay = \"360 deg\"", "motor.play",
                "360°", "less than one turn", "3 deg", "play ="},
        Mistake{"no_stiffness", R"(speed = "3 rpm")", "speed = \"3 rpm\"\ndrive_stiffness = \"0 N m/rad\"",
                "motor.drive_stiffness", "'0 N m/rad'", "a stiffness against twist above zero", "",
                "drive_stiffness ="},
        Mistake{"torque_for_a_stiffness", R"(speed = "3 rpm")",
                "speed = \"3 rpm\"\ndrive_stiffness = \"40 N m\"", "motor.drive_stiffness",
                "'40 N m', a torque", "a stiffness against twist above zero", "N m/rad", "drive_stiffness ="},
        Mistake{"unknown_bore", R"(points = "point")", "points = \"point\"\nbore = \"hexagonal\"",
                "fork[1].bore", "'hexagonal'", R"("square", "round" or "hexagon")", "\"hexagon\"", "bore ="},
        Mistake{"no_screw", R"(points = "point")", "points = \"point\"\nclamp = { screw = \"0 mm\" }",
                "fork[1].clamp.screw", "'0 mm'", "a length above zero", "", "clamp ="},
        Mistake{"no_clamp_torque", R"(points = "point")",
                "points = \"point\"\nclamp = { torque = \"0 N m\" }", "fork[1].clamp.torque", "'0 N m'",
                "a torque above zero", "", "clamp ="},
        Mistake{"unknown_clamp_key", R"(points = "point")",
                "points = \"point\"\nclamp = { screws = \"6 mm\" }", "fork[1].clamp.screws", "an unknown key",
                "'screw'", "did you mean 'screw'?", "clamp ="},
        Mistake{"bushing_is_no_flag", R"(width = "8 mm")", "width = \"8 mm\"\nbushing = \"yes\"",
                "rod.bushing", "'yes'", "true or false", "", "bushing ="},
        Mistake{"rated_over_stall", R"(rated_torque = "2.5 N m")", R"(rated_torque = "6 N m")",
                "motor.rated_torque", "6 N m", "at most the stall_torque, 5 N m", "for hours"},
        Mistake{"negative_friction", "support_friction = 0.12", "support_friction = -0.1",
                "motor.support_friction", "-0.1", "not below zero", ""},
        Mistake{"negative_friction_torque", "support_friction = 0.12", "friction_torque = \"-1 N m\"",
                "motor.friction_torque", "'-1 N m'", "not below zero", ""},
        Mistake{"box_inside_out", R"(min = ["150 mm", "-150 mm", "-300 mm"])",
                R"(min = ["150 mm", "-150 mm", "-200 mm"])", "cooker.surface[1].min",
                "-200 mm along z, where max has -220 mm", "less than max", ""},
        Mistake{"negative_keep", "fire = true", "fire = true\nkeep = \"-5 mm\"", "cooker.surface[1].keep",
                "'-5 mm'", "not below zero", "", "keep ="},
        Mistake{"tine_radius", R"(radius = "32 mm")", R"(radius = "0 mm")", "fork[1].tine[1].radius",
                "'0 mm'", "above zero", ""},
        Mistake{"tine_length", R"(length = "95 mm")", R"(length = "-95 mm")", "fork[1].tine[1].length",
                "'-95 mm'", "above zero", ""},
        Mistake{"tine_diameter", R"(diameter = "5 mm")", R"(diameter = "0 mm")", "fork[1].tine[1].diameter",
                "'0 mm'", "above zero", ""},
        Mistake{"fork_mass", R"(mass = "160 g")", R"(mass = "-160 g")", "fork[1].mass", "'-160 g'",
                "not below zero", ""},
        Mistake{"weight_mass", "mass = \"300 g\"\nradius", "mass = \"-300 g\"\nradius",
                "counterweight[1].mass", "'-300 g'", "not below zero", ""},
        Mistake{"weight_radius", R"(radius = "70 mm")", R"(radius = "-70 mm")", "counterweight[1].radius",
                "'-70 mm'", "not below zero", ""},
        Mistake{"stock_radius", R"(radius = ["40 mm", "110 mm"])", R"(radius = ["110 mm", "40 mm"])",
                "stock.counterweights[1].radius", "110 mm to 40 mm", "the least and the greatest radius", ""},
        Mistake{"no_scale", R"(scan_unit = "mm")", "scan_unit = \"mm\"\nscale = 0", "item[1].scale", "0",
                "a plain number above zero", "", "scale = 0"},
        Mistake{"duration", R"(serve = "18:30")", R"(duration = "0 h")", "cook.duration", "'0 h'",
                "a time above zero", ""},
        Mistake{"endless_cook", R"(serve = "18:30")", R"(duration = "300 h")", "cook.duration", "'300 h'",
                "between a minute and 48 h", "its unit"},
        Mistake{"molten_cooker", R"(cooker_temperature = "300 degF")", R"(cooker_temperature = "1500 degC")",
                "cook.cooker_temperature", "'1500 degC'",
                "a cooker between 30 °C (86 °F) and 600 °C (1112 °F)", "its unit"},
        Mistake{"hot_start", R"(serve = "18:30")", R"(start_temperature = "180 degC")",
                "cook.start_temperature", "'180 degC'", "meat between -60 °C (-76 °F) and 60 °C (140 °F)",
                "its unit"},
        Mistake{"pull_in_the_wrong_unit", R"(pull = { core = "162 degF" })",
                R"(pull = { core = "162 degC" })", "cook.pull.core", "'162 degC'", "its water boils",
                "its unit"},
        Mistake{"pull_of_nothing", R"(pull = { core = "162 degF" })", R"(pull = { brest = "70 degC" })",
                "cook.pull.brest", "a place that no item has", "one of", "probe"}),
    name_of);

const char* const box_surface = R"(shape = "box"
min = ["150 mm", "-150 mm", "-300 mm"]
max = ["530 mm", "150 mm", "-220 mm"])";

INSTANTIATE_TEST_SUITE_P(
    Surfaces, Tells,
    testing::Values(
        Mistake{"zero_normal", box_surface,
                "shape = \"plane\"\npoint = [\"0 mm\", \"0 mm\", \"-400 mm\"]\nnormal = [0, 0, 0.0]",
                "cooker.surface[1].normal", "a normal of no length", "3 plain numbers", "normal = [0, 0, 1]",
                "normal ="},
        Mistake{"normal_with_units", box_surface,
                "shape = \"plane\"\npoint = [\"0 mm\", \"0 mm\", \"-400 mm\"]\nnormal = [\"0 mm\", \"0 mm\", "
                "\"1 mm\"]",
                "cooker.surface[1].normal", "a list of 3 values", "3 plain numbers", "normal = [0, 0, 1]",
                "normal ="},
        Mistake{"no_normal", box_surface, "shape = \"plane\"\npoint = [\"0 mm\", \"0 mm\", \"-400 mm\"]",
                "cooker.surface[1].normal", "nothing", "3 plain numbers", "normal = [0, 0, 1]",
                "[[cooker.surface]]"},
        Mistake{
            "short_profile", box_surface,
            "shape = \"revolved\"\ncentre = [\"0 mm\", \"0 mm\", \"0 mm\"]\nprofile = [[\"1 mm\", \"2 mm\"]]",
            "cooker.surface[1].profile", "a list of 1 value", "at least two points", "profile = [[",
            "profile ="},
        Mistake{"no_profile", box_surface, "shape = \"revolved\"\ncentre = [\"0 mm\", \"0 mm\", \"0 mm\"]",
                "cooker.surface[1].profile", "nothing", "at least two points", "profile = [[",
                "[[cooker.surface]]"},
        Mistake{"negative_radius", box_surface,
                "shape = \"revolved\"\ncentre = [\"0 mm\", \"0 mm\", \"0 mm\"]\nprofile = [[\"1 mm\", \"2 "
                "mm\"], [\"-1 mm\", \"3 mm\"]]",
                "cooker.surface[1].profile[2][1]", "'-1 mm'", "not below zero", "", "profile ="},
        Mistake{"odd_point", box_surface,
                "shape = \"revolved\"\ncentre = [\"0 mm\", \"0 mm\", \"0 mm\"]\nprofile = [[\"1 mm\", \"2 "
                "mm\"], [\"1 mm\"]]",
                "cooker.surface[1].profile[2]", "a list of 1 value", "a point [radius, height]", "",
                "profile ="},
        Mistake{"no_mesh", box_surface, "shape = \"mesh\"\nfile = \"none.off\"", "cooker.surface[1].file",
                "none.off", "", "", "file ="},
        Mistake{"mesh_unit", box_surface, "shape = \"mesh\"\nfile = \"box.off\"\nunit = \"kg\"",
                "cooker.surface[1].unit", "'kg', a mass", "a unit of length", "\"mm\"", "unit ="},
        Mistake{"key_of_another_shape", "fire = true", "fire = true\npoint = [\"0 mm\", \"0 mm\", \"0 mm\"]",
                "cooker.surface[1].point", "a key for shape = \"plane\"", "none beside shape = \"box\"",
                "take it out", "point = ["},
        Mistake{"name_twice", "[[item]]",
                "[[cooker.surface]]\nname = \"coal bed\"\nshape = \"plane\"\npoint = [\"0 mm\", \"0 mm\", "
                "\"0 mm\"]\nnormal = [0, 0, "
                "1]\n[[item]]",
                "cooker.surface[3].name", "'coal bed' for a second time", "a name of its own", "",
                "name = \"coal bed\"\nshape = \"plane\""}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Contradictions, Tells,
    testing::Values(
        Mistake{"two_frictions", "support_friction = 0.12",
                "support_friction = 0.12\nfriction_torque = \"0.05 N m\"", "motor.friction_torque",
                "friction_torque beside support_friction", "one of the two", "", "friction_torque ="},
        Mistake{"shape_and_scan", "scan = \"box.off\"\nscan_unit = \"mm\"",
                "shape = \"turkey\"\nscan = \"box.off\"", "item[1].scan", "scan beside shape",
                "one of the two", "", "scan = "},
        Mistake{"scan_unit_of_a_shape", "scan = \"box.off\"\n", "shape = \"turkey\"\n", "item[1].scan_unit",
                "scan_unit = 'mm'", "only beside scan", "take it out", "scan_unit ="},
        Mistake{"density_of_a_shape", "scan = \"box.off\"\nscan_unit = \"mm\"",
                "shape = \"turkey\"\ndensity = \"1000 kg/m3\"", "item[1].density",
                "density =", "only beside scan", "take it out", "density = \"1000"},
        Mistake{"no_items",
                "[[item]]\nname = \"roast\"\nscan = \"box.off\"\nscan_unit = \"mm\"\nmass = \"3.6 kg\"\nat = "
                "\"340 mm\"\nline = { "
                "from = [\"4 mm\", \"-6 mm\"], to = [\"2 mm\", \"-1 mm\"] }\n",
                "", "item", "nothing", "at least one item", "[[item]]", "title"}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Bodies, Tells,
    testing::Values(
        Mistake{"no_such_scan", R"(scan = "box.off")", R"(scan = "none.off")", "item[1].scan", "none.off", "",
                ""},
        Mistake{"scan_is_no_mesh", R"(scan = "box.off")", R"(scan = "not.off")", "item[1].scan", "not.off",
                "", ""},
        Mistake{"scan_of_unknown_kind", R"(scan = "box.off")", R"(scan = "scan.stp")", "item[1].scan",
                "scan.stp", "", ""},
        Mistake{"open_scan", R"(scan = "box.off")", R"(scan = "open.off")", "item[1].scan",
                "open.off: 3 boundary edges", "a closed mesh that bounds a solid", ""},
        Mistake{"millimetres", "scan_unit = \"mm\"\n", "", "item[1].scan", "a body 300 m long",
                "between 30 mm and 3 m", R"(it looks like mm: add scan_unit = "mm")", "scan ="},
        Mistake{"inches", "scan = \"box.off\"\nscan_unit = \"mm\"\n", "scan = \"inches.off\"\n",
                "item[1].scan", "a body 12 m long", "between 30 mm and 3 m",
                R"(it looks like in: add scan_unit = "in")", "scan ="},
        Mistake{"tiny", "scan = \"box.off\"\nscan_unit = \"mm\"\n", "scan = \"tiny.off\"\n", "item[1].scan",
                "a body 2 mm long", "between 30 mm and 3 m", "scale = 150", "scan ="},
        Mistake{"unit_of_the_scan", R"(scan_unit = "mm")", R"(scan_unit = "kg")", "item[1].scan_unit",
                "'kg', a mass", "a unit of length", R"("mm")"},
        Mistake{"unknown_model", "[cooker]\n", "[cooker]\nmodel = \"ceramic-64\"\n", "cooker.model",
                "'ceramic-64', which is no cooker of the models",
                "one of: block-pit, ceramic-46, drum, gas-grill, kettle-57, open-pit",
                R"(did you mean "ceramic-46"?)", "model ="},
        Mistake{"model_elsewhere", "[cooker]\n", "[cooker]\nmodel = \"../rods/square-8mm\"\n", "cooker.model",
                "which is no cooker", "one of:", "", "model ="},
        Mistake{"unknown_fork_model", "at = \"190 mm\"\npoints = \"point\"\nmass = \"160 g\"",
                "at = \"190 mm\"\nmodel = \"two-tines\"", "fork[1].model", "'two-tines', which is no fork",
                "two-tine", R"(did you mean "two-tine"?)", "model ="},
        Mistake{"unknown_material",
                "youngs_modulus = \"200 GPa\"\nyield_strength = \"190 MPa\"\ndensity = \"7900 kg/m3\"",
                "material = \"unobtainium\"", "rod.material", "'unobtainium', which is no material",
                "one of: carbon-steel, cold-drawn-carbon-steel, cold-drawn-stainless-steel, stainless-steel",
                ""}),
    name_of);

TEST_F(LoadFile, RefusesMoreThanARodHolds) {
    const auto times = [](int count, const std::string& text) {
        std::string all;
        for (int i = 0; i < count; ++i) all += text;
        return all;
    };
    const std::string weight =
        "[[counterweight]]\nat = \"90 mm\"\nmass = \"3 g\"\nradius = \"70 mm\"\nclock = \"0 deg\"\n"
        "diameter = \"40 mm\"\n";
    EXPECT_THAT(complaints(small_load + times(199, weight)), IsEmpty());
    // One complaint about each list, and none about what is in it.
    const auto too_many = complaints(small_load + times(200, "[[counterweight]]\nat = 1\n") +
                                     times(500, "[[fork]]\n") + times(201, "[[item]]\n"));
    ASSERT_EQ(too_many.size(), 3U);
    for (const Complaint& complaint : too_many) {
        EXPECT_EQ(complaint.expected, "at most 200");
        EXPECT_EQ(complaint.mend, "take the rest out");
    }
    const std::string tine = R"({ clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" })";
    const std::string crowded =
        with(small_load, "tine = [ " + tine, "tine = [ " + times(50, tine + ", ") + tine);
    const auto told = complaints(crowded);
    ASSERT_EQ(told.size(), 1U);
    EXPECT_EQ(told[0].key, "fork[1].tine");
    EXPECT_EQ(told[0].found, "a list of 51 values");
    EXPECT_EQ(told[0].expected, "at most 50");
}

TEST_F(LoadFile, TellsEverythingThatIsWrongInFileOrder) {
    std::string text = with(small_load, R"(width = "8 mm")", "width = 8");
    text = with(text, R"(speed = "3 rpm")", R"(speed = "3 kg")");
    text = with(text, R"(scan = "box.off")", R"(scan = "none.off")");
    text = with(text, R"(serve = "18:30")", R"(serv = "18:30")");
    const std::vector<Complaint> told = complaints(text);
    ASSERT_EQ(told.size(), 4U);
    EXPECT_EQ(told[0].key, "rod.width");
    EXPECT_EQ(told[1].key, "motor.speed");
    EXPECT_EQ(told[2].key, "item[1].scan");
    EXPECT_EQ(told[3].key, "cook.serv");
}

TEST_F(LoadFile, TellsOfAnEmptyFileWhatALoadNeeds) {
    const std::vector<Complaint> told = complaints("");
    ASSERT_EQ(told.size(), 3U);
    EXPECT_EQ(told[0].key, "rod");
    EXPECT_THAT(told[0].mend, testing::StartsWith("add a section [rod], and under it model = "));
    EXPECT_EQ(told[1].key, "motor");
    EXPECT_EQ(told[2].key, "item");
}

TEST_F(LoadFile, IsRefusedWhereItIsNone) {
    EXPECT_THROW([[maybe_unused]] auto a = read_load(folder_ / "none.toml", test::models_folder()),
                 InputError);
    EXPECT_THROW([[maybe_unused]] auto a = read_load(folder_.path(), test::models_folder()), InputError);
    EXPECT_THROW([[maybe_unused]] auto a = read_load(folder_ / "box.off", test::models_folder()), InputError);
    EXPECT_THROW([[maybe_unused]] auto a = read_load("", test::models_folder()), InputError);
}

TEST(Samples, Read) {
    const auto samples = std::filesystem::path(EVENSPIT_SOURCE_DIR) / "samples";
    const Assembly harvest = read_load(samples / "harvest-turkey.toml", test::models_folder());
    EXPECT_EQ(harvest.forks.size(), 2U);
    for (const char* name : {"everything-wrong.toml", "three-chickens.toml", "leg-of-lamb.toml"}) {
        EXPECT_NO_THROW([[maybe_unused]] auto a = read_load(samples / name, test::models_folder())) << name;
    }
}

TEST_F(LoadFile, RefusesAUnitForAFormatThatHasOne) {
    // The smallest glTF with a closed body: a tetrahedron of 0.2 m, positions and indices in one data URI.
    write("body.gltf", R"({"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[{"mesh":0}],
"meshes":[{"primitives":[{"attributes":{"POSITION":0},"indices":1}]}],
"accessors":[{"bufferView":0,"componentType":5126,"count":4,"type":"VEC3","min":[0,0,0],"max":[0.25,0.25,0.25]},
{"bufferView":1,"componentType":5123,"count":12,"type":"SCALAR"}],
"bufferViews":[{"buffer":0,"byteOffset":0,"byteLength":48},{"buffer":0,"byteOffset":48,"byteLength":24}],
"buffers":[{"byteLength":72,"uri":"data:application/octet-stream;base64,AAAAAAAAAAAAAAAAAACAPgAAAAAAAAAAAAAAAAAAgD4AAAAAAAAAAAAAAAAAAIA+AAACAAEAAAABAAMAAAADAAIAAQACAAMA"}]})");
    const std::string gltf = with(small_load, "box.off", "body.gltf");
    const std::vector<Complaint> told = complaints(gltf);
    ASSERT_EQ(told.size(), 1U) << InputError(told).what();
    EXPECT_EQ(told[0].key, "item[1].scan_unit");
    EXPECT_THAT(told[0].found, HasSubstr("defines its own unit"));
    const Assembly assembly = read(with(gltf, "scan_unit = \"mm\"\n", ""));
    EXPECT_NEAR(assembly.items[0].body->volume_m3, 0.25 * 0.25 * 0.25 / 6, 1e-9);
}

// --- hostile texts ---

TEST_F(LoadFile, MutatedIsReadOrRefusedButNeverCrashes) {
    std::mt19937 random(20240607);
    const auto below = [&random](std::size_t n) { return std::size_t(random() % n); };
    const std::vector<std::string> pieces = {"\"",
                                             "[",
                                             "]",
                                             "{",
                                             "}",
                                             "=",
                                             "\n",
                                             "-",
                                             "1e308",
                                             "0",
                                             "nan",
                                             "[[item]]\n",
                                             "model = \"ceramic-46\"\n",
                                             " mm",
                                             "\xc2",
                                             "\"\"\"",
                                             "..",
                                             "scan = \"\"\n",
                                             "true",
                                             "#",
                                             "shape = \"turkey\"\n"};
    int refused = 0;
    constexpr int rounds = 1000;
    for (int round = 0; round < rounds; ++round) {
        std::string text = small_load;
        for (std::size_t change = 0; change <= below(4); ++change) {
            if (text.size() < 2) break;
            const std::size_t at = below(text.size());
            switch (below(5)) {
                case 0:
                    text.erase(at, 1 + below(12));
                    break;
                case 1:
                    text.insert(at, pieces[below(pieces.size())]);
                    break;
                case 2:
                    text[at] = static_cast<char>(random() % 256);
                    break;
                case 3: {
                    // A line moves elsewhere.
                    const std::size_t from = text.rfind('\n', at) + 1;
                    const std::size_t to = std::min(text.find('\n', at), text.size() - 1) + 1;
                    const std::string line = text.substr(from, to - from);
                    text.erase(from, to - from);
                    text.insert(text.empty() ? 0 : text.rfind('\n', below(text.size())) + 1, line);
                    break;
                }
                default:
                    text.resize(std::max<std::size_t>(at, 1));
                    break;
            }
        }
        try {
            const Assembly assembly = read(text);
            for (const Item& item : assembly.items) ASSERT_NE(item.body, nullptr) << text;
        } catch (const InputError& error) {
            ++refused;
            ASSERT_FALSE(error.complaints().empty());
            for (const Complaint& complaint : error.complaints())
                ASSERT_FALSE(complaint.found.empty()) << error.what();
        }
    }
    // Most changes break it, some do not: else this test would not look at both ways out.
    EXPECT_GT(refused, rounds / 2);
    EXPECT_LT(refused, rounds);
}

}  // namespace
}  // namespace evenspit
