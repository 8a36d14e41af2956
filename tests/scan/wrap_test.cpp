// SPDX-License-Identifier: MIT
#include "scan/wrap.h"

#include <cmath>
#include <cstring>
#include <numbers>
#include <stdexcept>

#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "made_points.h"
#include "scan/self_intersections.h"

namespace evenspit::scan {
namespace {

using test::roast;
using test::sheet_on;

TEST(Wrap, AClosedSheetBecomesItsBody) {
    const TriangleMesh truth = roast();
    int dropped = -1;
    const TriangleMesh mesh = wrap(sheet_on(truth, 30000), 0.003, dropped);
    EXPECT_TRUE(check_solid(mesh).ok());
    EXPECT_TRUE(self_intersections(mesh).empty());
    EXPECT_EQ(dropped, 0);
    const Moments wanted = volume_moments(truth), found = volume_moments(mesh);
    EXPECT_NEAR(found.amount, wanted.amount, 0.01 * wanted.amount);
    EXPECT_LT((found.centre - wanted.centre).norm(), 2e-4);
}

// The library reckons in single precision, which is too coarse a kilometre away.
TEST(Wrap, FarFromTheOriginItIsTheSame) {
    Sheet sheet = sheet_on(roast(), 20000);
    int dropped = 0;
    const TriangleMesh near = wrap(sheet, 0.004, dropped);
    const Vec3 far(1000, -2000, 500);
    for (Vec3& p : sheet.positions) p += far;
    const TriangleMesh mesh = wrap(sheet, 0.004, dropped);
    ASSERT_TRUE(check_solid(mesh).ok());
    const Moments wanted = volume_moments(near), found = volume_moments(mesh);
    EXPECT_NEAR(found.amount, wanted.amount, 1e-4 * wanted.amount);
    EXPECT_LT((found.centre - far - wanted.centre).norm(), 1e-5);
}

TEST(Wrap, TheSameSheetGivesTheSameBits) {
    const Sheet sheet = sheet_on(roast(), 20000);
    int dropped = 0;
    const TriangleMesh once = wrap(sheet, 0.004, dropped), again = wrap(sheet, 0.004, dropped);
    EXPECT_EQ(once.triangles, again.triangles);
    ASSERT_EQ(once.vertices.size(), again.vertices.size());
    EXPECT_EQ(std::memcmp(once.vertices.data(), again.vertices.data(), once.vertices.size() * sizeof(Vec3)),
              0);
}

TEST(Wrap, SmallHolesCloseAndNothingFallsThrough) {
    const TriangleMesh truth = roast();
    const Sheet whole = sheet_on(truth, 30000);
    const Sheet holed = test::part_of(
        whole, [](const Vec3& place, const Vec3&) { return (place - Vec3(0, 0, 0.07)).norm() >= 0.025; });
    ASSERT_LT(holed.size(), whole.size() - 300);
    int dropped = 0;
    const TriangleMesh mesh = wrap(holed, 0.003, dropped);
    EXPECT_TRUE(check_solid(mesh).ok());
    const double wanted = volume_moments(truth).amount;
    EXPECT_NEAR(volume_moments(mesh).amount, wanted, 0.02 * wanted);
}

TEST(Wrap, PiecesBesideTheBodyAreDropped) {
    Sheet sheet = sheet_on(roast(), 20000);
    sheet.append(sheet_on(test::ellipsoid_mesh(0.02, 0.02, 0.02, Vec3(0.25, 0, 0)), 1500));
    int dropped = 0;
    const TriangleMesh mesh = wrap(sheet, 0.003, dropped);
    EXPECT_EQ(dropped, 1);
    EXPECT_EQ(check_solid(mesh).components, 1);
    EXPECT_LT(bounds(mesh).max().x(), 0.2);
}

TEST(Wrap, NothingGivesNothing) {
    int dropped = -1;
    EXPECT_TRUE(wrap({}, 0.003, dropped).triangles.empty());
    Sheet place;
    for (int k = 0; k < 3; ++k) place.invent(Vec3(1, 2, 3), Vec3::UnitZ(), 1e-6);
    EXPECT_TRUE(wrap(place, 0.003, dropped).triangles.empty());
}

TEST(Wrap, StopsWhileTheLibraryWorks) {
    int looks = 0, dropped = 0;
    const StopControl control([&] {
        if (++looks == 2) throw std::runtime_error("stopped");
    });
    EXPECT_THROW(wrap(sheet_on(roast(), 30000), 0.002, dropped, control), std::runtime_error);
    EXPECT_EQ(looks, 2);
}

}  // namespace
}  // namespace evenspit::scan
