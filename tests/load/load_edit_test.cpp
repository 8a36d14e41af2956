// SPDX-License-Identifier: MIT
#include "load/load_edit.h"

#include <cmath>
#include <filesystem>
#include <limits>
#include <numbers>
#include <stdexcept>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "support/temporary_folder.h"
#include "units/error.h"

namespace evenspit {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

double mm(int n) {
    return parse_quantity(fmt::format("{} mm", n), Dimension::length);
}
double deg(int n) {
    return parse_quantity(fmt::format("{} deg", n), Dimension::angle);
}

TEST(ExactQuantity, IsShortWhereThatIsExact) {
    EXPECT_EQ(exact_quantity(mm(347), Dimension::length), "347 mm");
    EXPECT_EQ(exact_quantity(parse_quantity("12.5 mm", Dimension::length), Dimension::length), "12.5 mm");
    EXPECT_EQ(exact_quantity(0, Dimension::length), "0 mm");
    EXPECT_EQ(exact_quantity(-0.0, Dimension::length), "0 mm");
    EXPECT_EQ(exact_quantity(parse_quantity("300 g", Dimension::mass), Dimension::mass), "300 g");
    EXPECT_EQ(exact_quantity(5.9, Dimension::mass), "5.9 kg");
    EXPECT_EQ(exact_quantity(deg(210), Dimension::angle), "210 deg");
}

TEST(ExactQuantity, ReadsBackToTheLastBit) {
    const bool held = rc::check("round trip", [] {
        const double size = std::pow(10.0, *rc::gen::inRange(-9, 3));
        const double value = size * *rc::gen::inRange(-1000000007, 1000000007) / 1000000007.0;
        const Dimension dimension = *rc::gen::element(Dimension::length, Dimension::mass, Dimension::angle);
        RC_ASSERT(parse_quantity(exact_quantity(value, dimension), dimension) == value);
    });
    EXPECT_TRUE(held);
}

TEST(ExactQuantity, RefusesWhatItIsNotFor) {
    EXPECT_THROW(exact_quantity(1, Dimension::torque), std::invalid_argument);
    EXPECT_THROW(exact_quantity(std::numeric_limits<double>::quiet_NaN(), Dimension::length),
                 std::invalid_argument);
}

constexpr const char* sample = R"(# supper
[[item]]
shape = "turkey"
mass = "13 lb"
at = "350 mm"      # a little toward the point

[[fork]]           # tail
at = "190 mm"
tine = [ { clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" } ]

[[fork]]           # neck
model = "two-tine"
at = "510 mm"
points = "drive"

[[counterweight]]  # from the drawer
at = "90 mm"
mass = "300 g"
radius = "70 mm"
clock = "210 deg"
diameter = "40 mm"

[cook]
start_temperature = "40 degF"
)";

Assembly sample_assembly() {
    Assembly a;
    a.file = "supper.toml";
    a.items.resize(1);
    a.items[0].seat.at_m = mm(350);
    const Tine tine{.clock_rad = 0, .radius_m = mm(32), .length_m = mm(95), .diameter_m = mm(5)};
    a.forks = {{.at_m = mm(190), .tines = {tine}},
               {.at_m = mm(510), .points = Facing::drive, .tines = {tine}}};
    a.counterweights = {
        {.at_m = mm(90), .mass_kg = 0.3, .radius_m = mm(70), .clock_rad = deg(210), .diameter_m = mm(40)}};
    return a;
}

TEST(EditedLoad, IsTheSameTextWhenNothingChanges) {
    EXPECT_EQ(edited_load(sample, sample_assembly(), sample_assembly()), sample);
}

TEST(EditedLoad, WritesSeats) {
    Assembly after = sample_assembly();
    Seat& seat = after.items[0].seat;
    seat.at_m = mm(342);
    seat.turn_rad = deg(15);
    seat.line = {.from = {mm(-3), mm(12)}, .to = {0, mm(4)}};
    const std::string text = edited_load(sample, sample_assembly(), after);
    EXPECT_THAT(text, HasSubstr("at = \"342 mm\"      # a little toward the point\n"
                                "turn = \"15 deg\"\n"
                                "line = { from = [\"-3 mm\", \"12 mm\"], to = [\"0 mm\", \"4 mm\"] }\n"));
    // And over again, now that the keys are there.
    Assembly again = after;
    again.items[0].seat.facing = Facing::drive;
    again.items[0].seat.line.to = {mm(1), mm(4)};
    const std::string second = edited_load(text, after, again);
    EXPECT_THAT(second, HasSubstr("line = { from = [\"-3 mm\", \"12 mm\"], to = [\"1 mm\", \"4 mm\"] }"));
    EXPECT_THAT(second, HasSubstr("facing = \"drive\"\n"));
}

TEST(EditedLoad, WritesALineThatIsASectionOfItsOwn) {
    const std::string text =
        "[[item]]\nat = \"350 mm\"\n[item.line]\nfrom = [\"0 mm\", \"0 mm\"]\n"
        "to = [\"0 mm\", \"0 mm\"]  # low\n[[fork]]\n[[fork]]\n";
    Assembly after = sample_assembly();
    after.items[0].seat.line.to = {mm(1), mm(2)};
    after.counterweights.clear();
    Assembly before = sample_assembly();
    before.counterweights.clear();
    EXPECT_THAT(edited_load(text, before, after), HasSubstr("to = [\"1 mm\", \"2 mm\"]  # low\n"));
}

TEST(EditedLoad, WritesForks) {
    Assembly after = sample_assembly();
    after.forks[0].clock_rad = deg(90);
    after.forks[1].points = Facing::point;
    after.forks[1].at_m = mm(505);
    const std::string text = edited_load(sample, sample_assembly(), after);
    EXPECT_THAT(text, HasSubstr("diameter = \"5 mm\" } ]\nclock = \"90 deg\"\n"));
    EXPECT_THAT(text, HasSubstr("at = \"505 mm\"\npoints = \"point\"\n"));
    Assembly again = after;
    again.forks[0].clock_rad = 0;
    EXPECT_THAT(edited_load(text, after, again), HasSubstr("clock = \"0 deg\"\n"));
}

TEST(EditedLoad, MovesACounterweightWhereItStands) {
    Assembly after = sample_assembly();
    after.counterweights[0].clock_rad = deg(30);
    after.counterweights[0].radius_m = mm(65);
    EXPECT_THAT(edited_load(sample, sample_assembly(), after),
                HasSubstr("\n[[counterweight]]  # from the drawer\nat = \"90 mm\"\nmass = \"300 g\"\n"
                          "radius = \"65 mm\"\nclock = \"30 deg\"\n"));
}

TEST(EditedLoad, SetsAndTakesOffCounterweights) {
    Assembly after = sample_assembly();
    after.counterweights[0].mass_kg = parse_quantity("450 g", Dimension::mass);
    const std::string other = edited_load(sample, sample_assembly(), after);
    EXPECT_THAT(other, HasSubstr("# [[counterweight]]  # from the drawer\n# at = \"90 mm\"\n"));
    EXPECT_THAT(other, HasSubstr("\n[[counterweight]]\nat = \"90 mm\"\nmass = \"450 g\"\nradius = \"70 mm\"\n"
                                 "clock = \"210 deg\"\ndiameter = \"40 mm\"\n"));
    after.counterweights.clear();
    EXPECT_THAT(edited_load(sample, sample_assembly(), after), Not(HasSubstr("\n[[counterweight]]")));
    after = sample_assembly();
    after.counterweights.push_back(after.counterweights[0]);
    after.counterweights.back().at_m = mm(600);
    const std::string added = edited_load(sample, sample_assembly(), after);
    EXPECT_THAT(added, HasSubstr("[[counterweight]]  # from the drawer\nat = \"90 mm\""));
    EXPECT_THAT(added, HasSubstr("\n[[counterweight]]\nat = \"600 mm\""));
}

TEST(MovedLoad, KeepsFilesFindable) {
    const std::string text =
        "[[item]]\nscan = \"scans/a.ply\"\n[[item]]\nscan = \"/all/b.ply\"\n"
        "[cooker]\n[[cooker.surface]]\nfile = \"lid.obj\"\n";
    const std::string moved = moved_load(text, "x.toml", "/home/cook/loads", "/home/cook/better");
    EXPECT_THAT(moved, HasSubstr("scan = \"../loads/scans/a.ply\""));
    EXPECT_THAT(moved, HasSubstr("scan = \"/all/b.ply\""));
    EXPECT_THAT(moved, HasSubstr("file = \"../loads/lid.obj\""));
    EXPECT_EQ(moved_load(text, "x.toml", "/home/cook", "/home/cook"), text);
}

// A folder to stand in, left again at the end.
class In {
  public:
    explicit In(const std::filesystem::path& folder) { std::filesystem::current_path(folder); }
    In(const In&) = delete;
    In& operator=(const In&) = delete;
    ~In() { std::filesystem::current_path(before_); }

  private:
    std::filesystem::path before_ = std::filesystem::current_path();
};

TEST(MovedLoad, TakesTheFolderOneStandsIn) {
    const test::TemporaryFolder folder;
    std::filesystem::create_directory(folder / "sub");
    const In here(folder.path());
    const std::string text = "[[item]]\nscan = \"a.ply\"\n";
    EXPECT_EQ(moved_load(text, "x.toml", "", ""), text);
    EXPECT_EQ(moved_load(text, "x.toml", "", "."), text);
    EXPECT_EQ(moved_load(text, "x.toml", "", folder.path()), text);
    EXPECT_THAT(moved_load(text, "x.toml", "", "sub"), HasSubstr("scan = \"../a.ply\""));
    EXPECT_THAT(moved_load(text, "x.toml", "sub", ""), HasSubstr("scan = \"sub/a.ply\""));
}

TEST(MovedLoad, TakesAListOfScans) {
    const std::string text =
        "[[item]]\nscan = [\"a.ply\", '/all/b.ply', # turned\n  \"../c.ply\"]\n"
        "[[item]]\nshape = \"turkey\"\n[[item]]\nscan = [\"d.ply\"]\n";
    const std::string moved = moved_load(text, "x.toml", "/home/cook/loads", "/home/cook");
    EXPECT_THAT(moved, HasSubstr("scan = [\"loads/a.ply\", '/all/b.ply', # turned\n  \"c.ply\"]"));
    EXPECT_THAT(moved, HasSubstr("scan = [\"loads/d.ply\"]"));
}

TEST(MovedLoad, GoesUpFromWhereALinkLeads) {
    const test::TemporaryFolder folder;
    std::filesystem::create_directories(folder / "far/away");
    std::filesystem::create_directory(folder / "loads");
    std::filesystem::create_directory_symlink(folder / "far/away", folder / "link");
    const std::string text = "[[item]]\nscan = \"a.ply\"\n";
    const std::string moved = moved_load(text, "x.toml", folder / "loads", folder / "link");
    EXPECT_THAT(moved, HasSubstr("scan = \"../../loads/a.ply\""))
        << "../loads is beside away, not beside the link";
    // The same folder by another name.
    std::filesystem::create_directory_symlink(folder / "loads", folder / "same");
    EXPECT_EQ(moved_load(text, "x.toml", folder / "loads", folder / "same"), text);
}

TEST(MovedLoad, WritesNamesThatTomlWouldMisread) {
    const std::string text = "[[item]]\nscan = \"a \\\"b\\\"\\n.ply\"\n";
    EXPECT_THAT(moved_load(text, "x.toml", "/home/cook/loads", "/home/cook"),
                HasSubstr("scan = \"loads/a \\\"b\\\"\\u000a.ply\""));
}

}  // namespace
}  // namespace evenspit
