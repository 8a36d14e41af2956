// SPDX-License-Identifier: MIT
#include "scan/weighing.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "body/meat_density.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "scan/scan.h"
#include "scan/trust.h"
#include "scan_classes.h"
#include "support/meshes.h"

namespace evenspit::scan {
namespace {

constexpr double usual_scale = 0.01;

TEST(WeighedVolume, OfARoastIsItsWeightOverTheDensityOfFlesh) {
    const WeighedVolume weighed = weighed_volume(2.1, {}, 0.001, RoastKind::automatic, 0);
    const body::DensitySpread flesh = body::usual_flesh_density(body::Meat::unknown);
    EXPECT_NEAR(weighed.volume_m3, 2.1 / flesh.kg_m3, 1e-12);
    EXPECT_NEAR(weighed.sigma_m3 / weighed.volume_m3, flesh.sigma_kg_m3 / flesh.kg_m3, 1e-12);
    // A scan 1 % too long is 3 % too large.
    const WeighedVolume scaled = weighed_volume(2.1, {}, 0.001, RoastKind::automatic, usual_scale);
    EXPECT_NEAR(std::pow(scaled.sigma_m3, 2) - std::pow(weighed.sigma_m3, 2),
                std::pow(0.03 * weighed.volume_m3, 2), 1e-15);
}

TEST(WeighedVolume, OfWhatMayBeABirdHoldsHalfAHollow) {
    const WeighedVolume roast = weighed_volume(2.1, {}, 0.02, RoastKind::roast, usual_scale);
    const WeighedVolume either = weighed_volume(2.1, {}, 0.02, RoastKind::automatic, usual_scale);
    EXPECT_NEAR(either.volume_m3 / roast.volume_m3, 1 + body::hollow_of_birds / 2, 1e-12);
    EXPECT_GT(either.sigma_m3, either.volume_m3 - roast.volume_m3) << "either answer lies within one σ or so";
}

// A body of which an app cut off the lower part, and closed it flat.
TEST(Weighing, TellsHowDeepACutBodyReaches) {
    const auto& classes = test::scan_classes();
    const auto kind =
        std::find_if(classes.begin(), classes.end(), [](const auto& c) { return c.name == "cap"; });
    ASSERT_NE(kind, classes.end());
    test::ScanCase given = kind->make(10);
    const test::Outcome alone = test::outcome_of(given, 10);
    EXPECT_GT(std::abs(alone.volume), 0.1) << "the scan alone has it far too small";
    given.settings.mass_kg = 1050 * volume_moments(given.body.skin).amount;
    const ScannedBody made = make_body(given.scans, given.settings);
    const test::Outcome weighed = test::compared(given, made, 10);
    EXPECT_LT(std::abs(weighed.volume), 0.05);
    EXPECT_LT(std::abs(weighed.volume), 2 * weighed.volume_sigma);
    EXPECT_LT(weighed.volume_sigma, 0.6 * alone.volume_sigma);
    EXPECT_LT(weighed.centre_mm, 0.5 * alone.centre_mm);
    EXPECT_LT(weighed.report.centre_sigma_m, alone.report.centre_sigma_m);
    EXPECT_TRUE(check_solid(made.mesh).ok());
    const auto told = [](const test::Outcome& o) {
        return std::any_of(o.report.remarks.begin(), o.report.remarks.end(), [](const ScanNote& note) {
            return std::holds_alternative<note::WeightTells>(note);
        });
    };
    EXPECT_TRUE(told(weighed));
    EXPECT_FALSE(told(alone));
}

// A ball that lies on a board, seen but for its underside, which a guess closed.
Skin ball_on_board() {
    Skin skin;
    constexpr double r = 0.06;
    skin.mesh = test::ellipsoid_mesh(r, r, r, Vec3::Zero(), 48, 40);
    for (const Vec3& p : skin.mesh.vertices) skin.support.push_back(p.z() < -0.3 * r ? 0 : 1);
    GuessedGround& ground = skin.underside.ground;
    for (std::size_t v = 0; v < skin.mesh.vertices.size(); v += 3) {
        const Vec3& p = skin.mesh.vertices[v];
        if (skin.support[v] > 0) continue;
        ground.at.push_back(p);
        ground.outward.push_back(p.normalized());
    }
    const auto n = Eigen::Index(ground.at.size());
    ground.covariance = Eigen::MatrixXd::Constant(n, n, 1e-6);
    return skin;
}

// σ of the volume by that ground.
double ground_sigma(const Skin& skin) {
    const GuessedGround& ground = skin.underside.ground;
    return ground_of_place(skin.mesh, skin.support, NearGuess(ground.at), ground.at.size()) *
           std::sqrt(ground.covariance.sum());
}

TEST(Weighing, MovesNothingUnderTheBoard) {
    const Skin before = ball_on_board();
    const double volume = volume_moments(before.mesh).amount;
    const double sigma = ground_sigma(before);
    const WeighedVolume heavier{volume + 2 * sigma, 0.1 * sigma};
    const Board board = level_board({0, 0, -0.06}, Vec3::UnitZ());
    Skin free = before, held = before;
    ASSERT_TRUE(weigh(free, sigma, heavier, std::nullopt));
    ASSERT_TRUE(weigh(held, sigma, heavier, board));
    const auto lowest = [](const Skin& skin) {
        double z = 0;
        for (const Vec3& p : skin.mesh.vertices) z = std::min(z, p.z());
        return z;
    };
    EXPECT_LT(lowest(free), -0.063);
    EXPECT_GE(lowest(held), -0.06 - 1e-12);
    for (const Skin& skin : {free, held}) {
        EXPECT_TRUE(check_solid(skin.mesh).ok());
        EXPECT_NEAR(volume_moments(skin.mesh).amount, volume + 2 * sigma, 0.1 * sigma);
        for (std::size_t v = 0; v < before.support.size(); ++v) {
            if (before.support[v] > 0) {
                EXPECT_EQ(skin.mesh.vertices[v], before.mesh.vertices[v]);
            }
        }
    }
}

// One unknown, seen twice: the mean by inverse squares.
TEST(Weighing, IsTheMeanOfScanAndScaleByTheirSquares) {
    Skin skin = ball_on_board();
    const double before = volume_moments(skin.mesh).amount;
    const double scan = ground_sigma(skin), scale = 0.7 * scan;
    ASSERT_TRUE(weigh(skin, scan, {before - 0.5 * scan, scale}, std::nullopt));
    const double share = scan * scan / (scan * scan + scale * scale);
    EXPECT_NEAR(volume_moments(skin.mesh).amount, before - 0.5 * scan * share, 0.01 * scan);
    EXPECT_NEAR(ground_sigma(skin), scan * std::sqrt(1 - share), 0.05 * scan);
}

TEST(Weighing, LeavesAloneWhatTheScanKnowsBetterAndWhatCannotBe) {
    Skin skin = ball_on_board();
    const std::vector<Vec3> before = skin.mesh.vertices;
    const double volume = volume_moments(skin.mesh).amount, sigma = ground_sigma(skin);
    EXPECT_FALSE(weigh(skin, sigma, {volume + 2 * sigma, 2 * sigma}, std::nullopt)) << "scan";
    EXPECT_FALSE(weigh(skin, sigma, {volume + 4 * sigma, 0.5 * sigma}, std::nullopt)) << "not of one body";
    EXPECT_EQ(skin.mesh.vertices, before);
    skin.underside.ground = {};
    EXPECT_FALSE(weigh(skin, sigma, {volume + sigma, 0.5 * sigma}, std::nullopt)) << "no guess";
    EXPECT_EQ(skin.mesh.vertices, before);
}

}  // namespace
}  // namespace evenspit::scan
