// SPDX-License-Identifier: MIT
#include "scan/beside.h"

#include <cmath>
#include <optional>
#include <string>

#include <gmock/gmock.h>

#include "beside_cases.h"
#include "geometry/moments.h"
#include "made_points.h"
#include "scan/sampling.h"
#include "scan/separate.h"
#include "support/sweep.h"
#include "units/error.h"

namespace evenspit::scan {
namespace {

using test::beside_case;
using test::BesideCase;
using ::testing::AllOf;
using ::testing::HasSubstr;
using Kind = BesideThing::Kind;

FoundBeside found_in(const PointSet& points, const BesideThing& thing, std::optional<double> unit = {}) {
    const auto board = find_board(points);
    if (!board) throw std::runtime_error("no board");
    return find_beside(points, *board, {thing, cut_height(*board), unit, "simulated"});
}

// A roast with things beside it, in millimetres.
PointSet scene_with(const std::vector<test::ThingBeside>& things) {
    test::ScanOptions options = test::random_scan(3);
    options.surroundings.clutter = 0;
    options.surroundings.board_size_m = {1.1, 1.1};
    options.surroundings.beside = things;
    options.metres_per_unit = 0.001;
    return sampled({test::simulate_scan(test::random_roast(3).skin, options).mesh, {}, {}, 0});
}

std::string refusal(const PointSet& points, const BesideThing& thing, std::optional<double> unit = {}) {
    try {
        found_in(points, thing, unit);
    } catch (const InputError& error) {
        return error.what();
    }
    return "not refused";
}

TEST(BesideThing, IsReadAsItIsWritten) {
    EXPECT_EQ(parse_beside("can 73 mm"), (BesideThing{Kind::can, 0.073}));
    EXPECT_EQ(parse_beside("block 4 in"), (BesideThing{Kind::block, 0.1016}));
    EXPECT_EQ(words_of(parse_beside("block 10 cm")), "a block 100 mm high");
    for (const char* wrong :
         {"", "can", "jar 73 mm", "can 73", "can 73 kg", "can 73 m", "block 2 mm", "73 mm"})
        EXPECT_THROW(parse_beside(wrong), QuantityError) << wrong;
}

// Units, noise, walks that leave a part out: the scale is as sure as it says. beside_table prints many.
TEST(Beside, GivesTheScaleAsSurelyAsItSays) {
    for (const Kind kind : {Kind::can, Kind::block}) {
        double squares = 0, made = 0;
        const std::uint64_t last = test::long_tests() ? 39 : 5;
        for (std::uint64_t seed = 1; seed <= last; seed += 2) {
            const BesideCase one = beside_case(kind, seed);
            try {
                const FoundBeside found =
                    found_in(sampled(one.scan.scans[0].content), *one.scan.settings.beside);
                const double off = std::log(found.metres_per_unit() / one.metres_per_unit);
                EXPECT_LT(std::abs(off), 4 * found.sigma()) << name_of(kind) << seed;
                EXPECT_LT(std::abs(off), 0.05) << name_of(kind) << seed;
                squares += off * off / (found.sigma() * found.sigma());
                ++made;
            } catch (const InputError& error) {
                EXPECT_THAT(error.what(), HasSubstr("beside")) << seed;
            }
        }
        EXPECT_GE(made, 0.6 * double(last + 1) / 2);
        EXPECT_LT(std::sqrt(squares / made), 2) << name_of(kind);
    }
}

TEST(Beside, OfTwoTheUnitTellsOrTheCookIsAsked) {
    test::ThingBeside small, large;
    small.size_m = {0.066, 0.066, 0.11};
    large.size_m = {0.099, 0.099, 0.12};
    large.azimuth_deg = 200;
    const PointSet points = scene_with({small, large});
    EXPECT_THAT(refusal(points, {Kind::can, 0.066}),
                AllOf(HasSubstr("2 things that could be the can"), HasSubstr("name the scan's unit")));
    EXPECT_NEAR(found_in(points, {Kind::can, 0.066}, 0.001).metres_per_unit(), 0.001, 1e-5);
    EXPECT_NEAR(found_in(points, {Kind::can, 0.099}, 0.001).metres_per_unit(), 0.001, 1e-5);
    EXPECT_THAT(refusal(points, {Kind::can, 0.08}, 0.001),
                AllOf(HasSubstr("66 mm across"), HasSubstr("99 mm across")));
}

TEST(Beside, WhatIsNotThereIsNotFound) {
    test::ThingBeside block;
    block.kind = test::ThingBeside::Kind::block;
    block.size_m = {0.07, 0.06, 0.1};
    const PointSet with_block = scene_with({block}), bare = scene_with({});
    EXPECT_NEAR(found_in(with_block, {Kind::block, 0.1}).metres_per_unit(), 0.001, 1e-5);
    EXPECT_THAT(refusal(with_block, {Kind::can, 0.07}), HasSubstr("stand the can on the board"));
    EXPECT_THAT(refusal(bare, {Kind::block, 0.1}), HasSubstr("stand the block on the board"));
    EXPECT_THAT(refusal(bare, {Kind::can, 0.073}), HasSubstr("stand the can on the board"));
}

TEST(Beside, ItIsCutAwayAndScalesTheBody) {
    const BesideCase one = beside_case(Kind::can, 6);
    const test::Outcome outcome = outcome_of(one.scan, 6);
    const ScanReport& report = outcome.report;
    ASSERT_TRUE(report.passes[0].beside);
    ASSERT_TRUE(report.scale_sigma);
    EXPECT_NEAR(report.metres_per_unit / one.metres_per_unit, 1, 3 * *report.scale_sigma);
    EXPECT_LT(std::abs(outcome.volume), 3 * outcome.volume_sigma);
    EXPECT_GE(outcome.volume_sigma, 2.9 * *report.scale_sigma) << "a volume feels the scale three times";
    // The can would reach out further than the body does.
    EXPECT_LT(std::abs(outcome.radius_mm), 8);
}

TEST(Beside, TwoScansKeepToEachOther) {
    const BesideCase one = beside_case(Kind::block, 8, true);
    test::ScanCase given = one.scan;
    // The second in inches, as another program wrote it.
    for (Vec3& v : given.scans[1].content.mesh.vertices) v *= one.metres_per_unit / 0.0254;
    const test::Outcome outcome = outcome_of(given, 8);
    ASSERT_TRUE(outcome.report.registration);
    ASSERT_TRUE(outcome.report.scale_sigma);
    EXPECT_LT(std::abs(outcome.volume), 3 * outcome.volume_sigma);
}

}  // namespace
}  // namespace evenspit::scan
