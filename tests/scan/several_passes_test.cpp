// SPDX-License-Identifier: MIT
// More than two scans of one body.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <gmock/gmock.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "made_points.h"
#include "scan/scan.h"
#include "scan_cases.h"
#include "units/error.h"

namespace evenspit::scan {
namespace {

using test::roast;
using test::SimulatedScan;
using ::testing::HasSubstr;

RawScan of(const SimulatedScan& scan, const char* name) {
    return {name, {scan.mesh, {}, scan.metres_per_unit, 0}};
}

// The roast of made_points as it lies after a turn about its long axis, seen from `span_deg` of all round.
SimulatedScan rolled(double roll_deg, std::uint64_t seed, double span_deg = 360) {
    test::ScanOptions options;
    options.seed = seed;
    options.rounds = {{0.5, 15, 0, span_deg, 8}, {0.5, 50, 20, span_deg, 6}};
    options.camera.noise_m = 0.0015;
    options.points = 40000;
    options.lies = Eigen::AngleAxisd(0.4 * double(seed), Vec3::UnitZ()).toRotationMatrix() *
                   Eigen::AngleAxisd(roll_deg * std::numbers::pi / 180, Vec3::UnitX()).toRotationMatrix();
    return test::simulate_scan(roast(), options);
}

ScanSettings in_file_frame() {
    ScanSettings settings;
    settings.keep_frame = true;
    return settings;
}

TEST(SeveralScans, ThreeTogetherSeeAllRound) {
    const SimulatedScan lying = rolled(0, 4), over = rolled(180, 5), again = rolled(90, 6);
    const ScannedBody body =
        make_body({of(lying, "lying.ply"), of(over, "over.ply"), of(again, "side.ply")}, in_file_frame());
    EXPECT_TRUE(check_solid(body.mesh).ok());
    ASSERT_EQ(body.report.passes.size(), 3u);
    const Moments made = volume_moments(body.mesh),
                  truth = volume_moments(transformed(roast(), lying.body_pose));
    EXPECT_NEAR(made.amount, truth.amount, 0.012 * truth.amount);
    EXPECT_LT((made.centre - truth.centre).norm(), 0.0015);
    ASSERT_TRUE(body.report.registration);
    EXPECT_LT(body.report.registration->error_m, 0.003) << "of the worst pair";
    EXPECT_LT(body.report.unseen_share, 0.1);
}

// The first need not lie as it is carved: here it is turned over.
TEST(SeveralScans, TheOrderDoesNotMatter) {
    const SimulatedScan lying = rolled(0, 4), over = rolled(180, 5), side = rolled(90, 6);
    const ScannedBody body =
        make_body({of(over, "over.ply"), of(side, "side.ply"), of(lying, "lying.ply")}, in_file_frame());
    const Moments made = volume_moments(body.mesh),
                  truth = volume_moments(transformed(roast(), over.body_pose));
    EXPECT_NEAR(made.amount, truth.amount, 0.012 * truth.amount);
    EXPECT_LT((made.centre - truth.centre).norm(), 0.0015);
}

TEST(SeveralScans, OneThatIsOfAnotherBodyIsNamed) {
    const SimulatedScan lying = rolled(0, 4), over = rolled(180, 5);
    const SimulatedScan other = test::simulate_scan(test::random_roast(9).skin, test::random_scan(9));
    try {
        make_body({of(lying, "lying.ply"), of(other, "other.ply"), of(over, "over.ply")}, in_file_frame());
        ADD_FAILURE() << "not refused";
    } catch (const InputError& error) {
        EXPECT_THAT(error.what(), HasSubstr("other.ply"));
        EXPECT_THAT(error.what(), HasSubstr("the one that fits it best"));
        EXPECT_THAT(error.what(), HasSubstr("leave this scan out"));
    }
}

}  // namespace
}  // namespace evenspit::scan
