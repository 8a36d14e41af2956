// SPDX-License-Identifier: MIT
#include "rig/rod.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

using std::numbers::pi;
using std::numbers::sqrt2;
using std::numbers::sqrt3;

constexpr std::array all_sections{Section::square, Section::round, Section::hexagon};

/// Area, second moment about the horizontal axis and greatest reach of a regular polygon, from its corners
/// (Green's theorem), turned by an angle.
struct PolygonMoments {
    double area = 0, second_moment = 0, reach_up = 0, reach = 0;
};

PolygonMoments regular_polygon(int corners, double circumradius, double turn) {
    PolygonMoments m;
    for (int i = 0; i < corners; ++i) {
        const double a = turn + 2 * pi * i / corners, b = turn + 2 * pi * (i + 1) / corners;
        const double x0 = circumradius * std::cos(a), y0 = circumradius * std::sin(a);
        const double x1 = circumradius * std::cos(b), y1 = circumradius * std::sin(b);
        const double cross = x0 * y1 - x1 * y0;
        m.area += cross / 2;
        m.second_moment += cross * (y0 * y0 + y0 * y1 + y1 * y1) / 12;
        m.reach_up = std::max(m.reach_up, std::abs(y0));
        m.reach = circumradius;
    }
    return m;
}

}  // namespace

// Closed forms of any text on strength of materials.
TEST(SectionProperties, RoundHasItsClosedForms) {
    const double d = 0.012;
    const SectionProperties s = section_properties(Section::round, d);
    EXPECT_NEAR(s.area_m2 / (pi * d * d / 4), 1, 1e-14);
    EXPECT_NEAR(s.second_moment_m4 / (pi * std::pow(d, 4) / 64), 1, 1e-14);
    EXPECT_NEAR(s.least_modulus_m3 / (pi * std::pow(d, 3) / 32), 1, 1e-14);
    EXPECT_NEAR(s.torsion_constant_m4 / (pi * std::pow(d, 4) / 32), 1, 1e-14);
    EXPECT_NEAR(s.torsion_modulus_m3 / (pi * std::pow(d, 3) / 16), 1, 1e-14);
    EXPECT_DOUBLE_EQ(s.outer_radius_m, d / 2);
}

TEST(SectionProperties, SquareHasItsClosedForms) {
    const double w = 0.008;
    const SectionProperties s = section_properties(Section::square, w);
    EXPECT_NEAR(s.area_m2 / (w * w), 1, 1e-14);
    EXPECT_NEAR(s.second_moment_m4 / (std::pow(w, 4) / 12), 1, 1e-14);
    EXPECT_NEAR(s.least_modulus_m3 / (std::pow(w, 3) / (6 * sqrt2)), 1, 1e-14);
    EXPECT_NEAR(s.outer_radius_m / (w / sqrt2), 1, 1e-14);
}

TEST(SectionProperties, HexagonHasItsClosedForms) {
    const double d = 0.010;
    const SectionProperties s = section_properties(Section::hexagon, d);
    EXPECT_NEAR(s.area_m2 / (sqrt3 / 2 * d * d), 1, 1e-14);
    EXPECT_NEAR(s.second_moment_m4 / std::pow(d, 4), 0.060141, 0.5e-6);
    EXPECT_NEAR(s.least_modulus_m3 / std::pow(d, 3), 0.104167, 0.5e-6);
    EXPECT_NEAR(s.outer_radius_m / (d / sqrt3), 1, 1e-14);
}

// The same, from the polygon's corners: I is the same in every attitude, S the least over all of them.
TEST(SectionProperties, PolygonsAgreeWithTheirCorners) {
    struct Case {
        Section section;
        int corners;
        double circumradius_per_width;
    };
    for (const Case c : {Case{Section::square, 4, 1 / sqrt2}, Case{Section::hexagon, 6, 1 / sqrt3}}) {
        const SectionProperties s = section_properties(c.section, 1);
        double least = INFINITY;
        for (int k = 0; k < 360; ++k) {
            const PolygonMoments m = regular_polygon(c.corners, c.circumradius_per_width, k * pi / 180);
            EXPECT_NEAR(m.area, s.area_m2, 1e-14);
            EXPECT_NEAR(m.second_moment, s.second_moment_m4, 1e-14);
            least = std::min(least, m.second_moment / m.reach_up);
        }
        EXPECT_NEAR(least, s.least_modulus_m3, 1e-14);
        EXPECT_NEAR(regular_polygon(c.corners, c.circumradius_per_width, 0).reach, s.outer_radius_m, 1e-15);
    }
}

// Saint-Venant: of all sections of one area the round one is stiffest in torsion, and none exceeds its polar
// moment.
TEST(SectionProperties, TorsionKeepsSaintVenantsBounds) {
    const SectionProperties round = section_properties(Section::round, 1);
    const double best = round.torsion_constant_m4 / (round.area_m2 * round.area_m2);
    double corners_fewer = 0;
    for (const Section section : {Section::square, Section::hexagon, Section::round}) {
        const SectionProperties s = section_properties(section, 1);
        const double stiffness = s.torsion_constant_m4 / (s.area_m2 * s.area_m2);
        EXPECT_LE(stiffness, best * (1 + 1e-14));
        EXPECT_GT(stiffness, corners_fewer) << "the rounder the stiffer";
        EXPECT_LE(s.torsion_constant_m4, 2 * s.second_moment_m4 * (1 + 1e-14));
        corners_fewer = stiffness;
    }
}

TEST(SectionProperties, GrowWithTheWidthsPowers) {
    for (const Section section : all_sections) {
        const SectionProperties a = section_properties(section, 0.006),
                                b = section_properties(section, 0.018);
        EXPECT_NEAR(b.area_m2 / a.area_m2, 9, 1e-12);
        EXPECT_NEAR(b.second_moment_m4 / a.second_moment_m4, 81, 1e-11);
        EXPECT_NEAR(b.least_modulus_m3 / a.least_modulus_m3, 27, 1e-11);
        EXPECT_NEAR(b.torsion_constant_m4 / a.torsion_constant_m4, 81, 1e-11);
        EXPECT_NEAR(b.torsion_modulus_m3 / a.torsion_modulus_m3, 27, 1e-11);
        EXPECT_NEAR(b.outer_radius_m / a.outer_radius_m, 3, 1e-13);
    }
}

}  // namespace evenspit
