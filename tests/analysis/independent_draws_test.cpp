// SPDX-License-Identifier: MIT
// The chances told, held against loads that are drawn anew. What has keys in a load file is written into its
// text and read back, once a load.

#include "support/independent_draws.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "analysis/chance.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "load/load_text.h"
#include "support/sweep.h"

namespace evenspit {
namespace {

using test::About;
using test::about;
using test::agree;
using test::Drawer;
using test::Found;
using test::found_in;
using test::sweep_sets;
using test::unseen;

const std::filesystem::path source = EVENSPIT_SOURCE_DIR;
const std::filesystem::path models = source / "models";

std::string content_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::string quoted(double si, const char* unit) {
    return fmt::format("\"{} {}\"", si, unit);
}

class IndependentDraws : public testing::TestWithParam<std::string> {
  protected:
    const std::filesystem::path file = source / GetParam();
    const Assembly load = read_load(file, models);
};

}  // namespace

TEST_P(IndependentDraws, HaveTheVerdictsAndFindingsToldAsChances) {
    // Many items take long.
    const int mountings = sweep_sets(1024), draws = sweep_sets(300, load.items.size() > 3 ? 4 : 1);
    const Analysis told = judge(load, mountings);
    const Found found = found_in(Drawer(load, GetParam()), draws);
    ASSERT_TRUE(told.mounted.has_value());
    EXPECT_TRUE(agree(told.mounted->chance.ready, mountings, found.ready, draws)) << "ready";
    EXPECT_TRUE(agree(told.mounted->chance.stop, mountings, found.stop, draws)) << "stop";
    const auto count = [](const std::map<About, int>& counts, const Finding& f) {
        const auto at = counts.find(about(f));
        return at == counts.end() ? 0 : at->second;
    };
    for (const Finding& f : told.findings) {
        if (!f.chance || *f.chance < 0.05 || *f.chance > 0.95 || f.code == Code::together) continue;
        const int so_bad = count(f.level == Level::stop ? found.stops : found.not_ready, f);
        EXPECT_TRUE(agree(*f.chance, mountings, so_bad, draws)) << code_name(f.code) << " " << f.about.index;
    }
}

// What has keys in the file, written there and read anew, is the load that was drawn.
TEST_P(IndependentDraws, AreTheSameLoadsWhenWrittenAndRead) {
    const Assembly drawn = Drawer(load, "written").draw();
    LoadText text(edited_load(content_of(file), load, drawn), file.string());
    text.set({"motor", "rated_torque"}, quoted(drawn.motor.rods * drawn.motor.rated_torque_n_m, "N m"));
    text.set({"motor", "stall_torque"}, quoted(drawn.motor.rods * drawn.motor.stall_torque_n_m, "N m"));
    text.set({"rod", "length"}, quoted(drawn.rod.length_m, "m"));
    text.set({"rod", "supports"}, fmt::format("[{}, {}]", quoted(drawn.rod.supports_m[0], "m"),
                                              quoted(drawn.rod.supports_m[1], "m")));
    Assembly read = read_load_text(text.text(), file, models);
    // What no key says.
    for (std::size_t i = 0; i < read.items.size(); ++i) read.items[i].off = drawn.items[i].off;
    for (std::size_t c = 0; c < read.counterweights.size(); ++c)
        read.counterweights[c].mass_kg = drawn.counterweights[c].mass_kg;
    read.motor.support_friction = drawn.motor.support_friction;
    read.motor.friction_torque_n_m = drawn.motor.friction_torque_n_m;
    read.rod.material.yield_strength_pa = drawn.rod.material.yield_strength_pa;
    read.cooker = drawn.cooker;
    const Analysis a = analyse(read), b = analyse(drawn);
    EXPECT_EQ(unseen(a), unseen(b));
    EXPECT_EQ(a.balance.motor_torque_peak_n_m, b.balance.motor_torque_peak_n_m);
    EXPECT_EQ(a.rod.stress_max_pa, b.rod.stress_max_pa);
    EXPECT_EQ(a.clearance.gap_min_m, b.clearance.gap_min_m);
}

INSTANTIATE_TEST_SUITE_P(Loads, IndependentDraws, testing::ValuesIn(test::loads_to_draw()),
                         [](const auto& file) {
                             std::string name = std::filesystem::path(file.param).stem().string();
                             std::replace(name.begin(), name.end(), '-', '_');
                             return name;
                         });

// A spread that were left out would show: the comparison can fail.
TEST(Drawer, ShowsASpreadThatIsLeftOut) {
    constexpr int mountings = 1024, draws = 300;  // quick
    Assembly load = read_load(source / "tests/analysis/drawn_loads/scanned-roast.toml", models);
    const double ready = judge(load, mountings).mounted->chance.ready;
    EXPECT_TRUE(agree(ready, mountings, found_in(Drawer(load, "all"), draws).ready, draws));
    load.spread.rod_line_m = 0;
    EXPECT_FALSE(agree(ready, mountings, found_in(Drawer(load, "all"), draws).ready, draws));
}

}  // namespace evenspit
