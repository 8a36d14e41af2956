// SPDX-License-Identifier: MIT
#include "scan/scan.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <set>
#include <stdexcept>
#include <variant>

#include <Eigen/Eigenvalues>
#include <gmock/gmock.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "made_points.h"
#include "scan/self_intersections.h"
#include "scan_cases.h"
#include "support/sweep.h"
#include "units/error.h"

namespace evenspit::scan {
namespace {

using test::roast;
using test::roast_scan;
using test::SimulatedScan;
using ::testing::AllOf;
using ::testing::Contains;
using ::testing::HasSubstr;

RawScan raw(const SimulatedScan& scan, const char* name = "scan.ply") {
    return {name, {scan.mesh, {}, scan.metres_per_unit, 0}};
}

// The first note of a kind; null: there is none.
template <class Note>
const Note* find(const std::vector<ScanNote>& notes) {
    for (const ScanNote& note : notes) {
        if (const Note* const found = std::get_if<Note>(&note)) return found;
    }
    return nullptr;
}

template <class Note>
bool has(const std::vector<ScanNote>& notes) {
    return find<Note>(notes) != nullptr;
}

ScanSettings in_file_frame() {
    ScanSettings settings;
    settings.keep_frame = true;
    return settings;
}

std::string refusal(const std::vector<RawScan>& scans, const ScanSettings& settings = {}) {
    try {
        make_body(scans, settings);
    } catch (const InputError& error) {
        return error.what();
    }
    return "not refused";
}

void expect_body_near(const TriangleMesh& found, const TriangleMesh& truth, double volume_share,
                      double centre_m) {
    EXPECT_TRUE(check_solid(found).ok());
    EXPECT_EQ(check_solid(found).components, 1);
    EXPECT_TRUE(self_intersections(found).empty());
    const Moments made = volume_moments(found), wanted = volume_moments(truth);
    EXPECT_NEAR(made.amount, wanted.amount, volume_share * wanted.amount);
    EXPECT_LT((made.centre - wanted.centre).norm(), centre_m);
}

TEST(ScanBody, ARoastOnABoardAmongClutter) {
    const SimulatedScan scan = roast_scan({.clutter = 3, .flying_share = 0.1});
    const ScannedBody body = make_body({raw(scan)}, in_file_frame());
    expect_body_near(body.mesh, transformed(roast(), scan.body_pose), 0.03, 0.003);
    const ScanReport& report = body.report;
    ASSERT_EQ(report.passes.size(), 1u);
    EXPECT_TRUE(report.passes[0].board);
    EXPECT_EQ(report.passes[0].underside, "round");
    EXPECT_GT(report.passes[0].guess_error_m, 0.0001);
    EXPECT_LT(report.passes[0].guess_error_m, 0.006);
    EXPECT_GT(report.passes[0].noise_m, 0.0005);
    EXPECT_LT(report.passes[0].noise_m, 0.0016);
    EXPECT_EQ(report.passes[0].points, scan.mesh.vertices.size());
    EXPECT_TRUE(report.closed);
    EXPECT_EQ(report.self_intersections, 0u);
    EXPECT_NEAR(report.volume_by_chords_m3, report.volume_m3, 0.002 * report.volume_m3);
    EXPECT_NEAR(report.volume_m3, volume_moments(body.mesh).amount, 1e-9);
    EXPECT_LT((report.centre_m - volume_moments(body.mesh).centre).norm(), 1e-9);
    EXPECT_GT(report.unseen_share, 0.1);
    EXPECT_LT(report.unseen_share, 0.5);
    EXPECT_LT(std::abs(report.offset_after_m), 1e-4);
    EXPECT_LT(report.distance_p95_m, 0.006);
    EXPECT_FALSE(body.bird);
    EXPECT_TRUE(body.regions.empty());
    EXPECT_FALSE(body.cavity);
    EXPECT_TRUE(has<note::SideUnseen>(report.advice));
    EXPECT_FALSE(find<note::SideUnseen>(report.advice)->bird);
    ASSERT_TRUE(has<note::CentreUncertain>(report.advice));
    EXPECT_EQ(find<note::CentreUncertain>(report.advice)->centre_m, report.centre_sigma_m);
    ASSERT_TRUE(has<note::NoBird>(report.remarks));
    EXPECT_EQ(find<note::NoBird>(report.remarks)->axes, note::NoBird::Axes::of_file);
    EXPECT_EQ(report.axes_from, AxesFrom::file);
}

TEST(ScanBody, TheBoardsWarpIsToldAsItIsUnderTheBody) {
    // The middle of the board sags by 6 mm against its corners, less under the body.
    const ScannedBody body = make_body({raw(roast_scan({.sag_m = 0.006}))}, in_file_frame());
    EXPECT_GT(body.report.passes[0].board_warp_m, 0.0005);
    EXPECT_LT(body.report.passes[0].board_warp_m, 0.004);
}

TEST(ScanBody, TwoScansSeeAllRound) {
    const SimulatedScan lying = roast_scan({}), over = roast_scan({.turned_over = true});
    const ScannedBody body = make_body({raw(lying), raw(over)}, in_file_frame());
    expect_body_near(body.mesh, transformed(roast(), lying.body_pose), 0.01, 0.0015);
    ASSERT_TRUE(body.report.registration);
    EXPECT_LT(body.report.registration->error_m, 0.002);
    EXPECT_GT(body.report.registration->overlap, 0.2);
    EXPECT_LT(body.report.unseen_share, 0.1);
    EXPECT_FALSE(has<note::FitsManyWays>(body.report.remarks));
    EXPECT_FALSE(has<note::ScansApart>(body.report.remarks));
    EXPECT_FALSE(has<note::CentreUncertain>(body.report.advice));
    EXPECT_LT(body.report.volume_sigma_m3, 0.012 * body.report.volume_m3);
}

// What a scan leaves open of the centre: a spread that turns with the frame, and shrinks with what is seen.
TEST(ScanBody, TellsHowTheCentreMayBeOff) {
    const SimulatedScan lying = roast_scan({});
    const ScannedBody in_file = make_body({raw(lying)}, in_file_frame());
    const ScannedBody in_item = make_body({raw(lying)}, {});
    const Mat3 covariance = in_file.report.centre_covariance_m2.value();
    EXPECT_GT(Eigen::SelfAdjointEigenSolver<Mat3>(covariance).eigenvalues().minCoeff(), 0);
    EXPECT_NEAR(std::sqrt(covariance.trace()), in_file.report.centre_sigma_m, 1e-12);
    EXPECT_LT((in_item.report.centre_covariance_m2.value() - turned(covariance, in_item.to_item)).norm(),
              1e-9 * covariance.norm());
    EXPECT_EQ(to_body(in_item, "roast", 3.0).centre_covariance_m2, in_item.report.centre_covariance_m2);
    const ScannedBody both = make_body({raw(lying), raw(roast_scan({.turned_over = true}))}, in_file_frame());
    EXPECT_LT(both.report.centre_sigma_m, 0.5 * in_file.report.centre_sigma_m);
}

TEST(ScanBody, TwoScansThatFitBadlyAreDoubted) {
    const test::TrueBody bird = test::random_bird(8);
    test::ScanOptions options = test::random_scan(8);
    const SimulatedScan lying = test::simulate_scan(bird.skin, options);
    options.seed += 1;
    options.lies = Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitX()) * options.lies;
    SimulatedScan over = test::simulate_scan(bird.skin, options);
    for (Vec3& p : over.mesh.vertices) p *= 1.018;  // a brother of it
    const ScannedBody body = make_body({raw(lying), raw(over)}, in_file_frame());
    ASSERT_TRUE(has<note::ScansApart>(body.report.remarks));
    EXPECT_EQ(find<note::ScansApart>(body.report.remarks)->error_m, body.report.registration->error_m);
    const double truth = volume_moments(bird.skin).amount;
    EXPECT_LT(std::abs(body.report.volume_m3 - truth), 2.5 * body.report.volume_sigma_m3);
}

TEST(ScanBody, TwoScansOfTheSameSideAreClosedAsOne) {
    const SimulatedScan lying = roast_scan({}), again = roast_scan({.clutter = 2});
    const ScannedBody body = make_body({raw(lying), raw(again)}, in_file_frame());
    expect_body_near(body.mesh, transformed(roast(), lying.body_pose), 0.03, 0.003);
    EXPECT_EQ(body.report.passes[0].underside, "round");
    EXPECT_TRUE(has<note::SameSideTwice>(body.report.remarks));
    EXPECT_TRUE(has<note::SideUnseen>(body.report.advice));
}

TEST(ScanBody, ASparseSecondScanIsSeenGroundToo) {
    const SimulatedScan lying = roast_scan({}), over = roast_scan({.points = 7000, .turned_over = true});
    const ScannedBody body = make_body({raw(lying), raw(over)}, in_file_frame());
    expect_body_near(body.mesh, transformed(roast(), lying.body_pose), 0.015, 0.002);
    EXPECT_LT(body.report.unseen_share, 0.1);
    EXPECT_LT(body.report.volume_sigma_m3, 0.02 * body.report.volume_m3);
}

TEST(ScanBody, TwoScansThatFitInManyWaysAreNotBelieved) {
    // A body of revolution about the vertical, seen from above and, turned over, from below.
    const TriangleMesh disc = test::ellipsoid_mesh(0.12, 0.12, 0.06, Vec3::Zero(), 144, 96);
    test::ScanOptions options;
    options.points = 40000;
    const SimulatedScan lying = test::simulate_scan(disc, options);
    options.seed = 2;
    options.lies = test::turned_over(Mat3::Identity(), 30);
    const SimulatedScan over = test::simulate_scan(disc, options);
    // Laid on each other the same side up, they fit as well, and leave a side unseen.
    EXPECT_THAT(refusal({raw(lying), raw(over)}), HasSubstr("2 scans that saw"));
}

TEST(ScanBody, TwoScansOfDifferentBodiesAreRefused) {
    const SimulatedScan lying = roast_scan({});
    SimulatedScan over = roast_scan({.turned_over = true});
    for (Vec3& p : over.mesh.vertices) p *= 1.25;
    EXPECT_THAT(refusal({raw(lying, "a.ply"), raw(over, "b.ply")}),
                AllOf(HasSubstr("b.ply"), HasSubstr("off the first")));
}

TEST(ScanBody, AClosedMeshIsKeptAsItCame) {
    const TriangleMesh truth = roast();
    const ScannedBody body = make_body({{"a.ply", {truth, {}, 1.0, 0}}}, in_file_frame());
    EXPECT_EQ(body.mesh.vertices, truth.vertices);
    EXPECT_EQ(body.mesh.triangles, truth.triangles);
    EXPECT_EQ(body.report.unseen_share, 0);
    EXPECT_TRUE(has<note::CameClosed>(body.report.remarks));
    EXPECT_FALSE(body.report.centre_covariance_m2.has_value());
    EXPECT_EQ(body.report.centre_sigma_m, 0);
}

TEST(ScanBody, AClosedMeshKnowsOfItsCentreWhatItSays) {
    TriangleMesh millimetres = scaled(roast(), 1000);
    const Mat3 covariance = Vec3(1, 4, 9).asDiagonal();
    const RawScan scan{"a.ply", {millimetres, {}, {}, 0, covariance}};
    ScanSettings settings = in_file_frame();
    settings.metres_per_unit = 1e-3;
    const Mat3 kept = make_body({scan}, settings).report.centre_covariance_m2.value();
    EXPECT_LT((kept - 1e-6 * covariance).norm(), 1e-15);
    settings.keep_frame = false;
    const ScannedBody moved = make_body({scan}, settings);
    EXPECT_LT((moved.report.centre_covariance_m2.value() - turned(kept, moved.to_item)).norm(), 1e-15);
}

TEST(ScanBody, ABirdGetsAxesPartsAndCavity) {
    const test::TrueBody bird = test::random_bird(2);
    const SimulatedScan scan = test::simulate_scan(bird.skin, test::random_scan(2));
    ScanSettings settings;
    const double volume = volume_moments(bird.skin).amount;
    settings.mass_kg = 0.92 * volume * 1080;  // some 8 % hollow
    const ScannedBody body = make_body({raw(scan)}, settings);
    ASSERT_TRUE(body.bird);
    // The item frame itself: the true bird's own, so nothing is to be moved back.
    expect_body_near(body.mesh, bird.skin, 0.03, 0.006);
    const Mat3 turn = (body.to_item * scan.body_pose).linear();
    EXPECT_LT(Eigen::AngleAxisd(turn).angle() * 180 / std::numbers::pi, 4);
    EXPECT_GT(body.report.axis_confidence, 0.5);
    ASSERT_EQ(body.regions.size(), body.mesh.triangles.size());
    for (const std::uint8_t region : body.regions) ASSERT_LT(region, body.region_table.size());
    const std::set<std::uint8_t> regions(body.regions.begin(), body.regions.end());
    EXPECT_GE(regions.size(), 9u);
    ASSERT_TRUE(body.cavity);
    EXPECT_TRUE(check_solid(*body.cavity).ok());
    EXPECT_TRUE(body.report.cavity_from_mass);
    EXPECT_NEAR(*body.report.cavity_m3, 0.08 * volume, 0.04 * volume);
    EXPECT_NEAR(*body.report.density_kg_m3, 0.92 * 1080, 30);

    const body::Body item = to_body(body, "turkey", settings.mass_kg);
    EXPECT_NEAR(body::mass_moments(item).amount, *settings.mass_kg, 1e-9);
    EXPECT_TRUE(item.pointed_ends_known);
    ASSERT_EQ(item.parts.size(), 2u);
    EXPECT_EQ(item.parts[1].kind, body::PartKind::cavity);
    EXPECT_EQ(item.parts[1].parent, -1) << "behind a wall of the flesh, as BODY.ply has it";
    EXPECT_NEAR(item.parts[0].density_kg_m3, 1080, 30) << "natural flesh, the hollow taken out";
    EXPECT_THAT(item.remarks, Contains(HasSubstr("cavity is inferred")));
}

TEST(ScanBody, ACavityIsAsLargeAsTheWeightTells) {
    for (const int seed : test::long_tests() ? std::vector{2, 4, 6} : std::vector{4}) {
        const test::TrueBody bird = test::random_bird(std::uint32_t(seed));
        const SimulatedScan scan = test::simulate_scan(bird.skin, test::random_scan(std::uint32_t(seed)));
        ScanSettings settings;
        settings.mass_kg = 0.84 * volume_moments(bird.skin).amount * 1070;
        const ScannedBody body = make_body({raw(scan)}, settings);
        ASSERT_TRUE(body.bird);
        ASSERT_TRUE(body.cavity);
        EXPECT_TRUE(check_solid(*body.cavity).ok());
        EXPECT_NEAR(volume_moments(*body.cavity).amount, *body.report.cavity_m3,
                    0.02 * *body.report.cavity_m3)
            << seed;
        EXPECT_FALSE(has<note::NoRoomForCavity>(body.report.remarks));
        EXPECT_FALSE(has<note::LittleRoomForCavity>(body.report.remarks));
        const SolidQueries skin(body.mesh);
        for (const Vec3& v : body.cavity->vertices) {
            ASSERT_TRUE(skin.contains(v));
            EXPECT_GT(skin.closest(v).distance, 0.0035);
        }
    }
}

TEST(ScanBody, AHollowThatNoBirdHasIsNotBelieved) {
    const test::TrueBody bird = test::random_bird(2);
    const SimulatedScan scan = test::simulate_scan(bird.skin, test::random_scan(2));
    const double volume = volume_moments(bird.skin).amount;
    ScanSettings settings;
    for (const double share : {0.65, 1.15}) {  // of what the skin would weigh when full
        settings.mass_kg = share * volume * 1075;
        const ScannedBody body = make_body({raw(scan)}, settings);
        ASSERT_TRUE(body.bird);
        ASSERT_TRUE(has<note::DensityDoubted>(body.report.remarks)) << share;
        EXPECT_FALSE(body.report.cavity_from_mass);
        EXPECT_LT(*body.report.cavity_m3, 0.25 * volume);
        // What is left over shows in the flesh.
        const body::Body item = to_body(body, "turkey", settings.mass_kg);
        EXPECT_GT(std::abs(item.parts[0].density_kg_m3 - 1075), 100) << share;
    }
}

TEST(ScanBody, NamedAxesWin) {
    ScanSettings settings;
    const Vec3 axis = Vec3(1, 1, 0).normalized(), up = Vec3(0, 0, 1);
    settings.axis = 3 * axis;
    settings.up = up;
    const ScannedBody body = make_body({{"a.ply", {roast(), {}, 1.0, 0}}}, settings);
    EXPECT_TRUE(body.to_item.linear().row(0).transpose().isApprox(axis, 1e-12));
    EXPECT_TRUE(body.to_item.linear().row(2).transpose().isApprox(up, 1e-12));
    EXPECT_NEAR(body.to_item.linear().determinant(), 1, 1e-12);
    EXPECT_EQ(body.report.axis_confidence, 1);
    // One alone: the other follows what was found, as near as it can.
    settings.up.reset();
    const ScannedBody half = make_body({{"a.ply", {roast(), {}, 1.0, 0}}}, settings);
    EXPECT_TRUE(half.to_item.linear().row(0).transpose().isApprox(axis, 1e-12));
    EXPECT_NEAR(half.to_item.linear().determinant(), 1, 1e-12);
    ASSERT_TRUE(has<note::NoBird>(half.report.remarks));
    EXPECT_EQ(find<note::NoBird>(half.report.remarks)->axes, note::NoBird::Axes::one_was_named);
}

TEST(ScanBody, AWrongUnitIsNamed) {
    TriangleMesh mesh = scaled(roast(), 100);
    EXPECT_THAT(refusal({{"a.ply", {mesh, {}, {}, 0}}}), HasSubstr("scan_unit"));
    EXPECT_THAT(refusal({{"a.ply", {mesh, {}, {}, 0}}}), HasSubstr("centimetres"));
    ScanSettings settings;
    settings.mass_kg = 3;
    settings.metres_per_unit = 0.0254;
    EXPECT_THAT(refusal({{"a.glb", {mesh, {}, 1.0, 0}}}, settings), HasSubstr("defines its own"));
    EXPECT_THAT(refusal({{"a.ply", {mesh, {}, {}, 0}}}, settings), HasSubstr("centimetres"));
    settings.metres_per_unit = 0.01;
    EXPECT_NEAR(make_body({{"a.ply", {mesh, {}, {}, 0}}}, settings).report.volume_m3,
                volume_moments(roast()).amount, 1e-8);
}

TEST(ScanBody, AnImpossibleDensityIsTold) {
    ScanSettings settings;
    settings.mass_kg = 0.6 * 1050 * volume_moments(roast()).amount;
    const ScannedBody body = make_body({{"a.ply", {roast(), {}, 1.0, 0}}}, settings);
    EXPECT_NEAR(*body.report.density_kg_m3, 630, 1);
    ASSERT_TRUE(has<note::DensityDoubted>(body.report.remarks));
    EXPECT_EQ(find<note::DensityDoubted>(body.report.remarks)->density_kg_m3, *body.report.density_kg_m3);
    settings.mass_kg = 1050 * volume_moments(roast()).amount;
    EXPECT_FALSE(
        has<note::DensityDoubted>(make_body({{"a.ply", {roast(), {}, 1.0, 0}}}, settings).report.remarks));
}

TEST(ScanBody, RefusesWhatIsNoBody) {
    EXPECT_THAT(refusal({}), HasSubstr("0 scans"));
    const RawScan one{"a.ply", {roast(), {}, 1.0, 0}};
    EXPECT_THAT(refusal(std::vector<RawScan>(9, one)), HasSubstr("9 scans"));
    TriangleMesh few;
    few.vertices = test::scattered(roast(), 100, 0);
    EXPECT_THAT(refusal({{"few.ply", {few, {}, 1.0, 0}}}), HasSubstr("100 points"));
    TriangleMesh heap;
    heap.vertices.assign(2000, Vec3(0.1, 0.2, 0.3));
    EXPECT_THAT(refusal({{"heap.ply", {heap, {}, 1.0, 0}}}),
                HasSubstr("heap.ply: found 2000 points at one place"));
    TriangleMesh line;
    for (int i = 0; i < 2000; ++i) line.vertices.emplace_back(1e-4 * i, 0, 0);
    EXPECT_THAT(refusal({{"line.ply", {line, {}, 1.0, 0}}}), HasSubstr("line.ply"));
    TriangleMesh plane;
    for (int i = 0; i < 60; ++i) {
        for (int j = 0; j < 60; ++j) plane.vertices.emplace_back(5e-3 * i, 5e-3 * j, 0);
    }
    EXPECT_THAT(refusal({{"plane.ply", {plane, {}, 1.0, 0}}}), HasSubstr("plane.ply"));
}

TEST(ScanBody, AHoleNothingBoundsIsDoubtedByItsSize) {
    // How far a body bulges over a hole grows with the hole: one constant height would be far too sure of
    // large ones, and doubt many small ones too much.
    for (const double cut : {-0.065, -0.055, -0.045}) {
        const TriangleMesh truth = test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero());
        TriangleMesh open;
        for (const Vec3& p : test::scattered(truth, 40000, 0.0005)) {
            if (p.z() > cut) open.vertices.push_back(p);
        }
        const ScannedBody body = make_body({{"open.ply", {open, {}, 1.0, 0}}}, in_file_frame());
        const Moments made = volume_moments(body.mesh), wanted = volume_moments(truth);
        EXPECT_LT(std::abs(made.amount - wanted.amount), 2.5 * body.report.volume_sigma_m3) << cut;
        EXPECT_LT((made.centre - wanted.centre).norm(), 2.5 * body.report.centre_sigma_m) << cut;
        EXPECT_LT(body.report.volume_sigma_m3, 0.12 * wanted.amount) << cut;
    }
}

TEST(ScanBody, OneSideAloneIsRefused) {
    TriangleMesh half;
    for (const Vec3& p : test::scattered(roast(), 40000, 0.001)) {
        if (p.y() > 0.03) half.vertices.push_back(p);
    }
    EXPECT_THAT(refusal({{"half.ply", {half, {}, 1.0, 0}}}), HasSubstr("walk all round it"));
}

TEST(ScanBody, StagesAreToldAndMayStopTheWork) {
    ScanSettings settings;
    std::vector<std::string> stages;
    settings.stage = [&](std::string_view stage) { stages.emplace_back(stage); };
    const RawScan scan = raw(roast_scan({.points = 20000}));
    make_body({scan}, settings);
    EXPECT_THAT(stages, Contains("looking for the board"));
    EXPECT_THAT(stages, Contains("wrapping"));
    settings.stage = [](std::string_view) { throw std::runtime_error("stopped"); };
    EXPECT_THROW(make_body({scan}, settings), std::runtime_error);
}

struct Enough {};

// How often a scan looks whether it should go on; with `stop_at`, it is told not to at that look.
std::size_t looks(const std::vector<RawScan>& scans, std::size_t stop_at) {
    std::size_t count = 0;
    ScanSettings settings;
    settings.keep_going = [&] {
        if (++count == stop_at) throw Enough{};
    };
    make_body(scans, settings);
    return count;
}

// Stopped at `all_stops` looks spread over the work where the long tests are asked for, else at `few` of
// them: one of each equal piece of it, wherever in the piece the seed puts it.
void expect_stoppable(const std::vector<RawScan>& scans, std::size_t least_looks, std::size_t all_stops,
                      std::size_t few) {
    const std::size_t all = looks(scans, 0);
    EXPECT_GT(all, least_looks);
    const std::size_t stops = test::long_tests() ? all_stops : few;
    std::mt19937 random(20240229);
    std::uniform_real_distribution<double> within;
    // Threads share the work as it comes, so that the number of looks differs a little from run to run.
    std::size_t stopped = 0;
    for (std::size_t k = 0; k < stops; ++k) {
        const double piece = double(all) / double(stops);
        const std::size_t at = 1 + std::size_t(piece * (double(k) + within(random)));
        try {
            EXPECT_LT(looks(scans, at), at) << "went on though it was told not to";
        } catch (const Enough&) {
            ++stopped;
        }
    }
    EXPECT_GT(stopped, stops / 2);
}

TEST(ScanBody, MayBeStoppedAtAnyLook) {
    expect_stoppable({raw(roast_scan({.points = 20000}))}, 1000, 40, 6);
}

TEST(ScanBody, MayBeStoppedWhereAClosedMeshIsKept) {
    expect_stoppable({{"a.ply", {roast(), {}, 1.0, 0}}}, 200, 20, 4);
}

TEST(ScanBody, TwoScansMayBeStoppedAtAnyLook) {
    expect_stoppable(
        {raw(roast_scan({.points = 20000})), raw(roast_scan({.points = 20000, .turned_over = true}))}, 1000,
        25, 3);
}

TEST(ScanBody, TheSameScanGivesTheSameBody) {
    const RawScan scan = raw(roast_scan({.points = 20000}));
    EXPECT_EQ(make_body({scan}, {}).mesh.vertices, make_body({scan}, {}).mesh.vertices);
}

// A few of the cases of scan_table, which prints all. Bounds are those the whole table keeps, see the README.
TEST(ScanBody, SimulatedPhoneScansOfBirds) {
    for (const std::uint64_t seed : {10U, 28U}) {
        if (seed != 10U && !test::long_tests()) break;
        SCOPED_TRACE(seed);
        const test::Outcome one = test::try_case(test::random_bird(seed), seed, false);
        EXPECT_LT(std::abs(one.volume), 0.03);
        EXPECT_LT(one.centre_mm, 3);
        EXPECT_LT(std::abs(one.radius_mm), 3);
        EXPECT_LT(one.axis_deg, 3);
        EXPECT_LT(std::abs(one.volume_sigmas), 3);
        EXPECT_LT(one.centre_sigmas, 3);
        EXPECT_LT(one.report.centre_sigma_m, 0.004);
    }
    const test::Outcome two = test::try_case(test::random_bird(12), 12, true);
    EXPECT_LT(std::abs(two.volume), 0.02);
    EXPECT_LT(two.centre_mm, 2);
    EXPECT_LT(std::abs(two.radius_mm), 3);
    EXPECT_LT(two.axis_deg, 3);
}

}  // namespace
}  // namespace evenspit::scan
