// SPDX-License-Identifier: MIT
#include "scan/wrap.h"

#include <cmath>
#include <numbers>

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
    const Indicator indicator = indicate(sheet_on(truth, 30000), 0.003);
    const TriangleMesh mesh = contour(indicator, dropped);
    EXPECT_TRUE(check_solid(mesh).ok());
    EXPECT_TRUE(self_intersections(mesh).empty());
    EXPECT_EQ(dropped, 0);
    const Moments wanted = volume_moments(truth), found = volume_moments(mesh);
    EXPECT_NEAR(found.amount, wanted.amount, 0.01 * wanted.amount);
    EXPECT_LT((found.centre - wanted.centre).norm(), 2e-4);
    EXPECT_LT(indicator.residual, 1e-3);
    EXPECT_NEAR(indicator.level, 0.5, 0.1);
}

TEST(Wrap, SmallHolesCloseAndNothingFallsThrough) {
    const TriangleMesh truth = roast();
    const Sheet whole = sheet_on(truth, 30000);
    Sheet holed;
    for (std::size_t s = 0; s < whole.size(); ++s) {
        if ((whole.positions[s] - Vec3(0, 0, 0.07)).norm() < 0.025) continue;
        holed.positions.push_back(whole.positions[s]);
        holed.normals.push_back(whole.normals[s]);
        holed.areas.push_back(whole.areas[s]);
        holed.invented.push_back(false);
    }
    ASSERT_LT(holed.size(), whole.size() - 300);
    int dropped = 0;
    const TriangleMesh mesh = contour(indicate(holed, 0.003), dropped);
    EXPECT_TRUE(check_solid(mesh).ok());
    const double wanted = volume_moments(truth).amount;
    EXPECT_NEAR(volume_moments(mesh).amount, wanted, 0.02 * wanted);
}

TEST(Wrap, PiecesBesideTheBodyAreDropped) {
    Sheet sheet = sheet_on(roast(), 20000);
    sheet.append(sheet_on(test::ellipsoid_mesh(0.02, 0.02, 0.02, Vec3(0.25, 0, 0)), 1500));
    int dropped = 0;
    const TriangleMesh mesh = contour(indicate(sheet, 0.003), dropped);
    EXPECT_EQ(dropped, 1);
    EXPECT_EQ(check_solid(mesh).components, 1);
    EXPECT_LT(bounds(mesh).max().x(), 0.2);
}

}  // namespace
}  // namespace evenspit::scan
