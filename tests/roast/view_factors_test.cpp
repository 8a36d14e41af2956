// SPDX-License-Identifier: MIT
#include "roast/view_factors.h"

#include <cmath>
#include <numbers>
#include <numeric>

#include <gtest/gtest.h>

#include "roast/view_formulas.h"
#include "scenes.h"

namespace evenspit {
namespace {

using std::numbers::pi;

using test::ball;
using test::meat_at;
using test::scene;
using test::surface;

CookerSurface plane(const std::string& name, const Vec3& point, const Vec3& normal) {
    return surface(name, PlaneShape{point, normal});
}

double sum(std::span<const double> values) {
    return std::accumulate(values.begin(), values.end(), 0.0);
}

TEST(SkinViews, AddToOne) {
    const Assembly assembly =
        scene({meat_at(ball(0.06), 0.2), meat_at(ball(0.09), 0.36)},
              {plane("ground", Vec3(0, 0, -0.3), Vec3::UnitZ()),
               surface("coals", BoxShape{Vec3(0.1, -0.1, -0.29), Vec3(0.4, 0.1, -0.2)})});
    const SkinViews views = skin_views(assembly);
    const std::vector<double> lingering = {1, 4, 9, 2, 0, 0, 1, 1, 1, 1, 1, 1,
                                           1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 5, 1};
    for (const TurnViews& mean : {mean_over_turn(views), mean_over_turn(views, lingering)}) {
        for (std::size_t k = 0; k < views.skin.patches.size(); ++k) {
            EXPECT_NEAR(sum(mean.of(k)), 1, 1e-12);
            for (const double share : mean.of(k)) EXPECT_GE(share, 0);
        }
    }
}

// The mean of (1 + cos θ)/2 over a turn.
TEST(SkinViews, AboveAnEndlessFireEachPatchOfARoundThingSeesOneHalf) {
    const Assembly assembly = scene({meat_at(test::ellipsoid_mesh(0.2, 0.08, 0.08, Vec3::Zero()), 0.3)},
                                    {plane("fire", Vec3(0, 0, -0.2), Vec3::UnitZ())});
    const SkinViews views = skin_views(assembly, {.rays = 256});
    const TurnViews mean = mean_over_turn(views);
    for (std::size_t k = 0; k < views.skin.patches.size(); ++k) {
        EXPECT_NEAR(mean.surface(k, 0), 0.5, 0.02);
        EXPECT_NEAR(mean.item(k, 0), 0, 1e-12) << "nothing round sees itself";
    }
    EXPECT_NEAR(item_view(views.skin, mean, 0)[0], 0.5, 5e-4);
}

TEST(SkinViews, CountTheTimeThatALoadSpendsAtAnAngle) {
    // A patch that looks along +z at angle 0 looks along −z, at the fire, half a turn later.
    const Assembly assembly =
        scene({meat_at(ball(0.08), 0.3)}, {plane("fire", Vec3(0, 0, -0.2), Vec3::UnitZ())});
    const SkinViews views = skin_views(assembly, {.rays = 512});
    std::vector<double> half(views.angles, 0);
    for (std::size_t a = views.angles / 4; a < 3 * views.angles / 4; ++a) half[a] = 3;
    const TurnViews mean = mean_over_turn(views, half);
    // From π/2 to 3π/2 the mean of (1 − n·z)/2 is 1/2 + n·z₀/π.
    for (std::size_t k = 0; k < views.skin.patches.size(); ++k) {
        const SkinPatch& patch = views.skin.patches[k];
        EXPECT_NEAR(mean.surface(k, 0), 0.5 + patch.normal.z() / pi, 0.02);
    }
    half.pop_back();
    EXPECT_THROW((void)mean_over_turn(views, half), std::invalid_argument);
    EXPECT_THROW((void)mean_over_turn(views, std::vector<double>(views.angles, 0.0)), std::invalid_argument);
    EXPECT_THROW((void)mean_over_turn(views, std::vector<double>(views.angles, -1.0)), std::invalid_argument);
}

TEST(SkinViews, OfABallAgreeWithTheFormulaForASphere) {
    const CookerSurface coals = surface("coals", BoxShape{Vec3(0.3, 0, -0.2 - 1e-6), Vec3(0.5, 0.1, -0.2)});
    const Assembly assembly = scene({meat_at(ball(0.05), 0.3)}, {coals});
    const SkinViews views = skin_views(assembly, {.rays = 512, .angles = 48});
    const double seen = item_view(views.skin, mean_over_turn(views), 0)[0];
    EXPECT_NEAR(seen, view_from_sphere_to_rectangle(0.2 / 0.2, 0.1 / 0.2), 4e-4);
}

TEST(SkinViews, OfALongRollAgreeWithTheFormulaForACylinder) {
    // 20 m long, coals 20 m long: the middle patches see them as if endless.
    const TriangleMesh roll = test::grid_mesh(64, 402, [](double u, double v) {
        const double x = 20 * (v - 0.5), r = v <= 0 || v >= 1 ? 0 : 0.05;
        return Vec3(x, r * std::cos(u), r * std::sin(u));
    });
    const CookerSurface coals = surface("coals", BoxShape{Vec3(-10, -0.3, -0.4), Vec3(10, 0.1, -0.3)});
    const Assembly assembly = scene({meat_at(roll, 0)}, {coals});
    const SkinViews views = skin_views(assembly, {.patch_m = 0.06, .rays = 64, .angles = 48});
    const TurnViews mean = mean_over_turn(views);
    double area = 0, seen = 0;
    for (std::size_t k = 0; k < views.skin.patches.size(); ++k) {
        const SkinPatch& patch = views.skin.patches[k];
        if (std::abs(patch.centre.x()) > 2) continue;
        area += patch.area_m2;
        seen += patch.area_m2 * mean.surface(k, 0);
    }
    EXPECT_NEAR(seen / area, view_from_cylinder_to_strip(-1, 1. / 3), 1e-3);
}

TEST(SkinViews, AreGivenAndTakenAlikeBetweenItems) {
    const Assembly assembly = scene({meat_at(ball(0.06), 0.2), meat_at(ball(0.1), 0.37)}, {});
    const SkinViews views = skin_views(assembly, {.rays = 512, .angles = 1});
    const TurnViews mean = mean_over_turn(views);
    const double from_small = item_view(views.skin, mean, 0)[2],
                 from_large = item_view(views.skin, mean, 1)[1];
    EXPECT_NEAR(views.skin.outer_area_m2(0) * from_small, views.skin.outer_area_m2(1) * from_large,
                0.01 * views.skin.outer_area_m2(0) * from_small);
    EXPECT_GT(from_small, 0.05);
}

// Inside a hollow sphere each point sees any piece of it by that piece's share of the sphere's area.
TEST(SkinViews, OfABowlSeeThemselves) {
    const TriangleMesh bowl = test::grid_mesh(96, 96, [](double u, double v) {
        // Outside from the pole to the rim, then inside back to the inner pole.
        const double radius = v <= 0.5 ? 0.1 : 0.09, angle = pi * (v <= 0.5 ? v : 1 - v);
        const double r = v <= 0 || v >= 1 ? 0 : radius * std::sin(angle);
        return Vec3(-radius * std::cos(angle), r * std::cos(u), r * std::sin(u));
    });
    const Assembly assembly = scene({meat_at(bowl, 0.3)}, {});
    const SkinViews views = skin_views(assembly, {.patch_m = 0.02, .rays = 256, .angles = 1});
    const TurnViews mean = mean_over_turn(views);
    double area = 0, itself = 0;
    for (std::size_t k = 0; k < views.skin.patches.size(); ++k) {
        const SkinPatch& patch = views.skin.patches[k];
        const Vec3 out = patch.centre - Vec3(0.3, 0, 0);
        if (out.dot(patch.normal) > -0.05 || out.x() > -0.01) continue;  // not of the inside, or of the rim
        area += patch.area_m2;
        itself += patch.area_m2 * mean.item(k, 0);
        EXPECT_NEAR(mean.item(k, 0), 0.5, 0.06);
    }
    EXPECT_GT(area, 0.03);
    // The last ring of the inside lies a 96th of π short of the rim.
    EXPECT_NEAR(itself / area, (1 - std::sin(pi / 96)) / 2, 0.004);
}

TEST(SkinViews, AreShadedByWhatHangsBeside) {
    // A wall at the point's end: behind a large ball a small one sees less of it.
    const CookerSurface wall = plane("wall", Vec3(1, 0, 0), -Vec3::UnitX());
    const auto seen = [&](std::vector<Item> items) {
        const Assembly assembly = scene(std::move(items), {wall});
        const SkinViews views = skin_views(assembly, {.rays = 2048, .angles = 1});
        return item_view(views.skin, mean_over_turn(views), 0)[0];
    };
    const double alone = seen({meat_at(ball(0.01), 0.2)});
    EXPECT_NEAR(alone, 0.5, 2e-3);
    const double shaded = seen({meat_at(ball(0.01), 0.2), meat_at(ball(0.12), 0.37)});
    // From the small ball's middle the large one fills the cap of half angle asin(0.12/0.17); all of it hides
    // wall. A small sphere sees a cap by its share of the sphere.
    const double cap = (1 - std::sqrt(1 - std::pow(0.12 / 0.17, 2))) / 2;
    EXPECT_NEAR(alone - shaded, cap, 2e-3);
}

TEST(SkinViews, AreTheSameToTheLastBitEveryTime) {
    const Assembly assembly = scene({meat_at(ball(0.07), 0.3)},
                                    {surface("coals", BoxShape{Vec3(0.2, -0.1, -0.3), Vec3(0.4, 0, -0.2)})});
    const SkinViews first = skin_views(assembly), second = skin_views(assembly);
    EXPECT_EQ(first.outside, second.outside);
    EXPECT_EQ(first.items, second.items);
}

TEST(SkinViews, RefuseToCastNothing) {
    const Assembly assembly = scene({meat_at(ball(0.07), 0.3)}, {});
    EXPECT_THROW((void)skin_views(assembly, {.rays = 0}), std::invalid_argument);
    EXPECT_THROW((void)skin_views(assembly, {.angles = 0}), std::invalid_argument);
    EXPECT_THROW((void)skin_views(assembly, {.patch_m = 0}), std::invalid_argument);
}

TEST(SkinPatches, CoverTheSkinOnce) {
    const Assembly assembly = scene({meat_at(ball(0.07), 0.3)}, {});
    const SkinPatches skin = skin_patches(assembly, 0.02);
    double area = 0;
    std::vector<int> times(skin.patch_of_triangle[0][0].size(), 0);
    for (std::size_t k = 0; k < skin.patches.size(); ++k) {
        area += skin.patches[k].area_m2;
        for (const std::int32_t t : skin.patches[k].triangles) {
            ++times[std::size_t(t)];
            EXPECT_EQ(skin.patch_of_triangle[0][0][std::size_t(t)], std::int32_t(k));
        }
    }
    EXPECT_EQ(std::count(times.begin(), times.end(), 1), std::ptrdiff_t(times.size()));
    EXPECT_NEAR(area, 4 * pi * 0.07 * 0.07, 0.003 * area);
    EXPECT_NEAR(area, skin.outer_area_m2(0), 1e-12);
}

}  // namespace
}  // namespace evenspit
