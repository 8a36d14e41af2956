// SPDX-License-Identifier: MIT
#include "scan/grid_field.h"

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

// A field that is linear in place away from its frame.
GridField ramp() {
    GridField field(Vec3(1, 2, 3), 0.5, {6, 7, 8});
    for (int k = 0; k < 8; ++k) {
        for (int j = 0; j < 7; ++j) {
            for (int i = 0; i < 6; ++i)
                field.values[field.index(i, j, k)] = float(Vec3(2, -1, 4).dot(field.position(i, j, k)) + 5);
        }
    }
    return field;
}

TEST(GridField, InterpolatesLinearFieldsExactly) {
    const GridField field = ramp();
    for (const Vec3& p : {Vec3(1.2, 2.7, 3.1), Vec3(3.4, 4.9, 6.4), Vec3(1, 2, 3)}) {
        EXPECT_NEAR(field.interpolated(p), Vec3(2, -1, 4).dot(p) + 5, 1e-5);
        EXPECT_TRUE(field.gradient(p).isApprox(Vec3(2, -1, 4), 1e-5)) << field.gradient(p).transpose();
    }
}

TEST(GridField, FallsToZeroInItsFrameAndStaysThere) {
    const GridField field = ramp();
    const double at_border = field.interpolated(Vec3(1, 3, 4));
    EXPECT_NEAR(field.interpolated(Vec3(0.75, 3, 4)), 0.5 * at_border, 1e-5);
    EXPECT_NEAR(field.interpolated(Vec3(0.5, 3, 4)), 0, 1e-6);
    EXPECT_NEAR(field.interpolated(Vec3(-100, 3, 4)), 0, 1e-6);
}

}  // namespace
}  // namespace evenspit::scan
