// SPDX-License-Identifier: MIT
#include "scan/separate.h"

#include <set>
#include <tuple>

#include <gtest/gtest.h>

#include "made_points.h"
#include "support/meshes.h"

namespace evenspit::scan {
namespace {

using test::roast_scan;
using test::ScannedThing;
using test::SimulatedScan;

using Place = std::tuple<double, double, double>;

Place place(const Vec3& p) {
    return {p.x(), p.y(), p.z()};
}

// How many of the things of one kind were kept, of how many.
struct Kept {
    std::size_t kept = 0, all = 0;
    [[nodiscard]] double share() const { return double(kept) / double(all); }
};

Kept kept_of(ScannedThing thing, const SimulatedScan& scan, const Separated& separated) {
    std::set<Place> body;
    for (const Vec3& p : separated.body.positions) body.insert(place(p));
    Kept count;
    for (std::size_t i = 0; i < scan.things.size(); ++i) {
        if (scan.things[i] != thing) continue;
        ++count.all;
        count.kept += body.count(place(scan.mesh.vertices[i]));
    }
    return count;
}

TEST(SeparateBody, DropsWhatHangsWithTheBodyNoMore) {
    const SimulatedScan scan = roast_scan({});
    const PointSet points{scan.mesh.vertices, {}, {}};
    const auto board = find_board(points);
    ASSERT_TRUE(board);
    Separated separated = separate_body(points, board);
    const std::size_t body = separated.body.size(), clutter = separated.clutter;
    drop_loose_pieces(separated);
    EXPECT_EQ(separated.body.size(), body) << "of one piece nothing goes";
    const Vec3 aside = separated.body.positions.front() + 2 * separated.diagonal * Vec3::UnitX();
    for (int k = 0; k < 1000; ++k)
        separated.body.positions.emplace_back(aside + 1e-3 * Vec3(k % 10, k / 10 % 10, k / 100));
    drop_loose_pieces(separated);
    EXPECT_EQ(separated.body.size(), body);
    EXPECT_EQ(separated.clutter, clutter + 1000);
    EXPECT_LT(separated.diagonal, 0.6);
}

TEST(SeparateBody, KeepsTheBodyAndNothingElse) {
    const SimulatedScan scan = roast_scan({.clutter = 5, .flying_share = 0.2});
    const PointSet points{scan.mesh.vertices, {}, {}};
    const auto board = find_board(points);
    ASSERT_TRUE(board);
    const Separated separated = separate_body(points, board);
    EXPECT_GT(kept_of(ScannedThing::body, scan, separated).share(), 0.93)
        << "what touches the board is cut with it";
    EXPECT_EQ(kept_of(ScannedThing::clutter, scan, separated).kept, 0u);
    EXPECT_LT(kept_of(ScannedThing::board, scan, separated).share(), 0.002);
    EXPECT_LT(kept_of(ScannedThing::flying, scan, separated).share(), 0.6);
    EXPECT_GE(separated.pieces, 2);
    EXPECT_LE(separated.pieces, 5);
    EXPECT_EQ(separated.body.size() + separated.on_board + separated.clutter + separated.strays,
              points.size());
    // The body is nearer to the camera than where noise is named, and most of it is seen aslant.
    EXPECT_GT(separated.surface.noise, 0.0005);
    EXPECT_LT(separated.surface.noise, 0.0016);
    EXPECT_GT(separated.cut, 2 * board->noise);
}

TEST(SeparateBody, WithoutABoardTheLargestPieceIsTheBody) {
    PointSet points{
        test::scattered(test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero()), 20000, 0.001), {}, {}};
    for (const Vec3& p :
         test::scattered(test::ellipsoid_mesh(0.03, 0.03, 0.03, Vec3(0.4, 0, 0)), 3000, 0.001))
        points.positions.push_back(p);
    points.positions.emplace_back(-0.5, 0, 0);
    const Separated separated = separate_body(points, std::nullopt);
    EXPECT_NEAR(double(separated.body.size()), 20000, 20);
    EXPECT_NEAR(double(separated.clutter), 3000, 20);
    EXPECT_EQ(separated.pieces, 1);
    EXPECT_GE(separated.strays, 1u);
    EXPECT_EQ(separated.on_board, 0u);
    EXPECT_NEAR(separated.diagonal, 2 * Vec3(0.15, 0.1, 0.08).norm(), 0.01);
}

TEST(SeparateBody, TheBodyIsInTheMiddleOfTheViewNotTheLargestThingAside) {
    const auto seen = [](const Vec3& small_at, const Vec3& large_at) {
        PointSet points{
            test::scattered(test::box_mesh(Vec3(-0.4, -0.3, -0.02), Vec3(0.4, 0.3, 0)), 60000, 5e-4), {}, {}};
        for (const Vec3& p : test::scattered(test::ellipsoid_mesh(0.07, 0.05, 0.04, small_at), 20000, 5e-4))
            points.positions.push_back(p);
        const Vec3 half(0.06, 0.06, 0.05);
        for (const Vec3& p : test::scattered(test::box_mesh(large_at - half, large_at + half), 20000, 5e-4))
            points.positions.push_back(p);
        Board board = level_board(Vec3::Zero(), Vec3::UnitZ());
        board.noise = 5e-4;
        const Separated separated = separate_body(points, board);
        Box3 box;
        for (const Vec3& p : separated.body.positions) box.extend(p);
        return box.sizes().x();
    };
    EXPECT_NEAR(seen({0, 0, 0.039}, {0.28, 0.1, 0.05}), 0.14, 0.01);
    // Where nothing else is in the middle, the largest is the body wherever it stands.
    EXPECT_NEAR(seen({-0.2, 0, 0.039}, {0.28, 0.1, 0.05}), 0.12, 0.01);
}

TEST(SeparateBody, AnEmptyBodyIfNothingIsLeft) {
    EXPECT_TRUE(separate_body({}, std::nullopt).body.empty());
    PointSet same;
    same.positions.assign(1000, Vec3(1, 2, 3));
    EXPECT_TRUE(separate_body(same, std::nullopt).body.empty());
}

TEST(SeparateBody, ScalesWithTheUnit) {
    Separated separated;
    separated.body.positions = {{1, 2, 3}};
    separated.diagonal = 1;
    separated.cut = 0.5;
    separated.surface = {0.1, 0.2};
    const Separated large = scaled(separated, 10);
    EXPECT_EQ(large.body.positions[0], Vec3(10, 20, 30));
    EXPECT_DOUBLE_EQ(large.diagonal, 10);
    EXPECT_DOUBLE_EQ(large.cut, 5);
    EXPECT_DOUBLE_EQ(large.surface.noise, 2);
}

}  // namespace
}  // namespace evenspit::scan
