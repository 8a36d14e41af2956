// SPDX-License-Identifier: MIT
// Scans that are surfaces on no board: what is kept of them as it came.
#include <algorithm>
#include <cmath>
#include <random>
#include <variant>
#include <vector>

#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "made_points.h"
#include "scan/scan.h"
#include "scan/self_intersections.h"

namespace evenspit::scan {
namespace {

using test::roast;

ScannedBody body_of(const TriangleMesh& mesh) {
    ScanSettings settings;
    settings.keep_frame = true;
    return make_body({{"a.ply", {mesh, {}, 1.0, 0}}}, settings);
}

template <class Note>
bool tells(const std::vector<ScanNote>& notes) {
    return std::any_of(notes.begin(), notes.end(),
                       [](const ScanNote& it) { return std::holds_alternative<Note>(it); });
}

void expect_near(const TriangleMesh& found, const TriangleMesh& truth, double volume_share, double centre_m) {
    EXPECT_TRUE(check_solid(found).ok());
    EXPECT_TRUE(self_intersections(found).empty());
    const Moments made = volume_moments(found), wanted = volume_moments(truth);
    EXPECT_NEAR(made.amount, wanted.amount, volume_share * wanted.amount);
    EXPECT_LT((made.centre - wanted.centre).norm(), centre_m);
}

// As STL files hold them.
TEST(KeptSurface, AClosedMeshIsKeptThoughEachTriangleStandsAlone) {
    const TriangleMesh truth = roast();
    TriangleMesh alone;
    for (const Triangle& t : truth.triangles) {
        const auto first = std::int32_t(alone.vertices.size());
        for (int k = 0; k < 3; ++k) alone.vertices.push_back(truth.corner(t, k));
        alone.triangles.push_back({first, first + 1, first + 2});
    }
    const ScannedBody body = body_of(alone);
    EXPECT_EQ(body.mesh.triangles.size(), truth.triangles.size());
    EXPECT_NEAR(volume_moments(body.mesh).amount, volume_moments(truth).amount, 1e-12);
    EXPECT_EQ(body.report.unseen_share, 0);
    EXPECT_TRUE(tells<note::CameClosed>(body.report.remarks));
}

TEST(KeptSurface, SmallHolesOfASurfaceAreFilledAndTheRestIsKept) {
    const TriangleMesh truth = roast();
    TriangleMesh holed = truth;
    std::erase_if(holed.triangles, [&](const Triangle& t) { return holed.corner(t, 0).z() < -0.068; });
    const ScannedBody body = body_of(holed);
    expect_near(body.mesh, truth, 0.002, 2e-4);
    ASSERT_TRUE(tells<note::HolesFilled>(body.report.remarks));
    EXPECT_EQ(std::get<note::HolesFilled>(body.report.remarks[0]).holes, 1);
    EXPECT_EQ(body.report.holes, 1);
    EXPECT_GT(body.report.unseen_share, 0.002);
    EXPECT_LT(body.report.unseen_share, 0.05);
    EXPECT_GT(body.report.centre_sigma_m, 0);
    EXPECT_LT(std::abs(body.report.volume_m3 - volume_moments(truth).amount),
              2 * body.report.volume_sigma_m3);
}

// What bulges over a large hole is anyone's guess, and rough surfaces gain by being averaged.
TEST(KeptSurface, LargeHolesAndRoughSurfacesAreWrapped) {
    TriangleMesh open = roast();
    std::erase_if(open.triangles, [&](const Triangle& t) { return open.corner(t, 0).z() < -0.045; });
    const ScannedBody wide = body_of(open);
    EXPECT_FALSE(tells<note::HolesFilled>(wide.report.remarks));
    EXPECT_GT(wide.report.unseen_share, 0.05);
    TriangleMesh rough = roast();
    std::erase_if(rough.triangles, [&](const Triangle& t) { return rough.corner(t, 0).z() < -0.068; });
    std::mt19937 dice(5);
    std::normal_distribution<double> off(0, 0.0015);
    for (Vec3& v : rough.vertices) v += Vec3(off(dice), off(dice), off(dice));
    const ScannedBody averaged = body_of(rough);
    EXPECT_FALSE(tells<note::HolesFilled>(averaged.report.remarks));
    expect_near(averaged.mesh, roast(), 0.01, 0.001);
}

}  // namespace
}  // namespace evenspit::scan
