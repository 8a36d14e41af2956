// SPDX-License-Identifier: MIT
#include "roast/conduction.h"

#include <algorithm>
#include <array>
#include <thread>

#include <gtest/gtest.h>

#include "body/bird.h"
#include "roast/body_foods.h"
#include "roast/heat_cases.h"
#include "units/stopped.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

using unit_factors::celsius_zero_k;

using test::SeriesSolution;
using Shape = SeriesSolution::Shape;

// The ball of a chicken in a textbook: Y. Çengel, Heat and Mass Transfer: 11.25 cm, 0.45 W/m·K, 0.15e-6 m2/s,
// from 8 °C into an oven of 220 °C with 80 W/m2·K.
constexpr double radius_m = 0.05625, conductivity = 0.45, diffusivity = 0.15e-6, coefficient = 80;
constexpr double start_k = 8 + celsius_zero_k, oven_k = 220 + celsius_zero_k;
constexpr double biot = coefficient * radius_m / conductivity;

ThermalTable chicken() {
    return constant_matter(conductivity, conductivity / diffusivity);
}

double exact_k(const SeriesSolution& series, double distance_m, double seconds) {
    const double theta = series(distance_m / radius_m, diffusivity * seconds / (radius_m * radius_m));
    return oven_k + theta * (start_k - oven_k);
}

// How far temperatures are from the exact ones, K: the greatest in cells under the outermost two spacings,
// the greatest of all, and the root mean square.
struct Errors {
    double inside = 0, greatest = 0, mean = 0;
};
Errors errors(const Conduction& heat, const std::function<double(const Vec3&)>& depth_m,
              const std::function<double(double)>& exact_at_depth_k) {
    Errors out;
    double squares = 0, weights = 0;
    const HeatGrid& grid = heat.grid();
    // Series are slow to sum: once for every tenth of a millimetre.
    constexpr double step_m = 1e-4;
    std::vector<double> exact;
    for (std::size_t n = 0; n < 562; ++n) exact.push_back(exact_at_depth_k(double(n) * step_m));
    for (std::size_t c = 0; c < grid.box.size(); ++c) {
        if (!grid.carries(c) || !grid.is_inside(c)) continue;
        const double depth = depth_m(grid.box.centre(c)), along = std::clamp(depth / step_m, 0.0, 560.9);
        const auto n = std::size_t(along);
        const double off =
            double(heat.temperature_k()[c]) - std::lerp(exact[n], exact[n + 1], along - double(n));
        out.greatest = std::max(out.greatest, std::abs(off));
        if (depth > 2 * grid.box.spacing_m) out.inside = std::max(out.inside, std::abs(off));
        squares += grid.filled[c] * off * off;
        weights += grid.filled[c];
    }
    out.mean = std::sqrt(squares / weights);
    return out;
}

// Incropera, table 5.1, and Çengel, table 4-2.
TEST(SeriesSolution, HasThePublishedFirstTerms) {
    const SeriesSolution slab(Shape::slab, 1), cylinder(Shape::cylinder, 5), ball(Shape::ball, 10);
    EXPECT_NEAR(slab.first_root(), 0.8603, 5e-5);
    EXPECT_NEAR(slab.first_weight(), 1.1191, 5e-5);
    EXPECT_NEAR(cylinder.first_root(), 1.9898, 5e-5);
    EXPECT_NEAR(cylinder.first_weight(), 1.5029, 5e-5);
    EXPECT_NEAR(ball.first_root(), 2.8363, 5e-5);
    EXPECT_NEAR(ball.first_weight(), 1.9249, 5e-5);
    EXPECT_NEAR(SeriesSolution(Shape::cylinder, 1)(0, 0.5), 0.54859, 1e-5);
    EXPECT_NEAR(SeriesSolution(Shape::ball, 1)(0, 0.5), 0.37078, 1e-5);
}

TEST(Conduction, OfTheTextbooksChickenAsABall) {
    const auto body = test::lump(test::ball_mesh(radius_m, 120, 90));
    const auto meets = test::convection(body->body.parts[0].mesh, oven_k, coefficient);
    Conduction heat(test::grid_of(*body, 0.002), {chicken()}, start_k);
    const SeriesSolution series(Shape::ball, biot);
    const Vec3 middle(0.0011, -0.0007, 0.0004);
    for (const double minutes : {5.0, 20.0, 50.0, 90.0}) {
        heat.advance_to(60 * minutes, meets);
        const Errors off = errors(
            heat, [&](const Vec3& p) { return radius_m - (p - middle).norm(); },
            [&](double depth) { return exact_k(series, radius_m - depth, heat.time_s()); });
        // At first what is warm is but three cells deep.
        EXPECT_LT(off.inside, minutes < 10 ? 1.0 : 0.3) << minutes << " min";
        EXPECT_LT(off.mean, 0.3) << minutes << " min";
        if (minutes < 10) continue;
        for (const double share : {0.0, 0.3, 0.6, 0.8, 0.9}) {
            const Vec3 place = middle + share * radius_m * Vec3(1, 2, -1).normalized();
            EXPECT_NEAR(heat.temperature_at_k(place), exact_k(series, share * radius_m, heat.time_s()), 0.3)
                << minutes << " min, " << share;
        }
    }
    EXPECT_NEAR(heat.temperature_at_k(middle) - celsius_zero_k, 168.0, 0.3);
    EXPECT_LT(heat.ledger().imbalance(), 1e-5);
}

TEST(Conduction, OfABallIsSecondOrderInTheSpacing) {
    const auto body = test::lump(test::ball_mesh(radius_m, 150, 110));
    const auto meets = test::convection(body->body.parts[0].mesh, oven_k, coefficient);
    const SeriesSolution series(Shape::ball, biot);
    const Vec3 middle(0.0011, -0.0007, 0.0004);
    std::vector<Errors> off;
    for (const double spacing : {0.010, 0.005, 0.0025}) {
        Conduction heat(test::grid_of(*body, spacing), {chicken()}, start_k, {.tolerance_k = 0.002});
        heat.advance_to(1800, meets);
        off.push_back(errors(
            heat, [&](const Vec3& p) { return radius_m - (p - middle).norm(); },
            [&](double depth) { return exact_k(series, radius_m - depth, heat.time_s()); }));
    }
    // Halving the spacing divides the error by about four.
    EXPECT_LT(off[1].mean, off[0].mean / 3);
    EXPECT_LT(off[2].mean, off[1].mean / 3);
    EXPECT_LT(off[2].greatest, off[0].greatest / 7);
}

TEST(Conduction, OfALongCylinder) {
    const auto body = test::lump(test::cylinder_mesh(radius_m, 0.04));
    const auto meets = test::convection(body->body.parts[0].mesh, oven_k, coefficient,
                                        [](const Vec3&, const Vec3& n) { return std::abs(n.x()) < 0.5; });
    Conduction heat(test::grid_of(*body, 0.002), {chicken()}, start_k);
    const SeriesSolution series(Shape::cylinder, biot);
    for (const double minutes : {20.0, 40.0, 90.0}) {
        heat.advance_to(60 * minutes, meets);
        const Errors off = errors(
            heat, [&](const Vec3& p) { return radius_m - std::hypot(p.y(), p.z()); },
            [&](double depth) { return exact_k(series, radius_m - depth, heat.time_s()); });
        EXPECT_LT(off.inside, 0.3) << minutes << " min";
        EXPECT_LT(off.mean, 0.3) << minutes << " min";
    }
}

// A slab that stands askew to the grid, heated on its two broad sides.
TEST(Conduction, OfASlabAskew) {
    const Mat3 turn = (Eigen::AngleAxisd(0.5, Vec3(1, 2, 3).normalized())).toRotationMatrix();
    Pose pose = Pose::Identity();
    pose.linear() = turn;
    const auto body =
        test::lump(transformed(test::box_mesh(Vec3(-0.04, -0.04, -0.03), Vec3(0.04, 0.04, 0.03)), pose));
    const Vec3 across = turn.col(2);
    const auto meets =
        test::convection(body->body.parts[0].mesh, oven_k, 30,
                         [&](const Vec3&, const Vec3& n) { return std::abs(n.dot(across)) > 0.5; });
    Conduction heat(test::grid_of(*body, 0.002), {chicken()}, start_k);
    const SeriesSolution series(Shape::slab, 30 * 0.03 / conductivity);
    for (const double minutes : {30.0, 60.0}) {
        heat.advance_to(60 * minutes, meets);
        const double fourier = diffusivity * heat.time_s() / (0.03 * 0.03);
        const Errors off = errors(
            heat, [&](const Vec3& p) { return 0.03 - std::abs(p.dot(across)); },
            [&](double depth) { return oven_k + series(1 - depth / 0.03, fourier) * (start_k - oven_k); });
        EXPECT_LT(off.inside, 0.3) << minutes << " min";
        EXPECT_LT(off.mean, 0.3) << minutes << " min";
    }
}

TEST(Conduction, IsTheSameForAGridTurnedAgainstTheBody) {
    const TriangleMesh shape = test::ellipsoid_mesh(0.06, 0.04, 0.03, Vec3::Zero(), 120, 90);
    const auto along = test::lump(shape);
    Pose pose = Pose::Identity();
    pose.linear() = Eigen::AngleAxisd(0.7, Vec3(2, -1, 1).normalized()).toRotationMatrix();
    const auto askew = test::lump(transformed(shape, pose));
    const auto heated = [&](const body::PreparedBody& body) {
        const auto grid = test::grid_of(body, 0.002);
        // Hot air from one side of the body, wherever that points.
        auto meets =
            test::convection(shape, oven_k, 40, [](const Vec3& p, const Vec3&) { return p.x() > 0; });
        Conduction heat(grid, {chicken()}, start_k);
        heat.advance_to(1800, meets);
        return heat;
    };
    const Conduction one = heated(*along), other = heated(*askew);
    for (const Vec3& p : {Vec3(0, 0, 0), Vec3(0.03, 0.01, 0), Vec3(-0.04, 0, 0.01), Vec3(0.05, 0, 0)})
        EXPECT_NEAR(one.temperature_at_k(p), other.temperature_at_k(pose * p), 0.15) << p.transpose();
    EXPECT_NEAR(one.ledger().stored_j / other.ledger().stored_j, 1, 1e-3);
}

TEST(Conduction, HardlyChangesWithTheStep) {
    const auto body = test::lump(test::ball_mesh(radius_m, 100, 80));
    const auto meets = test::convection(body->body.parts[0].mesh, oven_k, coefficient);
    const auto grid = test::grid_of(*body, 0.003);
    std::vector<std::vector<float>> ends;
    for (const double longest : {240.0, 120.0, 60.0, 15.0}) {
        Conduction heat(grid, {chicken()}, start_k,
                        {.tolerance_k = 100,
                         .mean_tolerance_k = 100,
                         .surface_change_k = 1e3,
                         .first_step_s = longest,
                         .longest_step_s = longest});
        heat.advance_to(1200, meets);
        ends.emplace_back(heat.temperature_k().begin(), heat.temperature_k().end());
    }
    const auto apart = [&](std::size_t n) {
        double most = 0;
        for (std::size_t c = 0; c < grid->box.size(); ++c) {
            if (grid->carries(c))
                most = std::max(most, std::abs(double(ends[n][c]) - double(ends.back()[c])));
        }
        return most;
    };
    EXPECT_LT(apart(1), apart(0) / 3);
    EXPECT_LT(apart(2), 0.1);
}

// A thin slab in a fire till it is dry through, then out in the cold: what it gives off on the way down is
// the heat that its dry matter holds, some 50 kJ for each kilogram and 50 K; the 1.6 MJ of its steam are
// gone.
TEST(Conduction, DoesNotGetBackWhatBoiledOff) {
    const body::Composition& turkey = body::raw_food("05165").composition;
    const ThermalTable table = thermal_table({turkey, 1050});
    const auto body = test::lump(test::box_mesh(Vec3(0, 0, 0), Vec3(0.03, 0.03, 0.006)));
    const TriangleMesh& mesh = body->body.parts[0].mesh;
    const auto grid = test::grid_of(*body, 0.002);
    Conduction heat(grid, {table}, start_k);
    heat.advance_to(3600, test::convection(mesh, 520, 150));
    const double hot_j = heat.ledger().stored_j;
    const double boiled_j = 2.257e6 * turkey.water * 1050 * grid->volume_m3();
    EXPECT_GT(hot_j, boiled_j) << "all of it boiled";
    const double hot_k = heat.temperature_at_k(Vec3(0.015, 0.015, 0.003));
    ASSERT_GT(hot_k, 450);
    heat.advance_to(2 * 3600, test::convection(mesh, 300, 150));
    EXPECT_NEAR(heat.temperature_at_k(Vec3(0.015, 0.015, 0.003)), 300, 1);
    const double dry_j_k = (table.enthalpy_j_m3(420) - table.enthalpy_j_m3(380)) / 40 * grid->volume_m3();
    EXPECT_NEAR((hot_j - heat.ledger().stored_j) / (dry_j_k * (hot_k - 300)), 1, 0.1);
    EXPECT_LT(heat.ledger().imbalance(), 1e-5);
    // Once more into the heat: nothing is left to boil.
    heat.advance_to(2 * 3600 + 600, test::convection(mesh, 520, 150));
    EXPECT_GT(heat.temperature_at_k(Vec3(0.015, 0.015, 0.003)), 450);
}

// Of two phases with one property each: J. Stefan and F. Neumann, in Carslaw and Jaeger §11.2. Thawed meat
// warms at its face, the rest is ice-cold at the melting point: λ exp(λ²) erf(λ) = c (T_face − T_melt)/(L
// √π), front at 2 λ √(α t).
TEST(Conduction, ThawsAsNeumannSays) {
    const double k = 0.5, c = 3.6e6, latent = 2.2e8, melt_k = 271.15, face_k = 313.15;
    const std::vector<ThermalPoint> points{{melt_k - 40, -40 * c, k},
                                           {melt_k - 0.02, -0.02 * c, k},
                                           {melt_k, latent, k},
                                           {melt_k + 200, latent + 200 * c, k}};
    const auto body = test::lump(test::box_mesh(Vec3(0, 0, 0), Vec3(0.06, 0.0085, 0.0085)));
    auto meets = test::convection(body->body.parts[0].mesh, face_k, 1e5,
                                  [](const Vec3&, const Vec3& n) { return n.x() < -0.5; });
    Conduction heat(test::grid_of(*body, 0.001), {ThermalTable(points)}, melt_k - 0.021);
    const double stefan = c * (face_k - melt_k) / latent;
    double low = 0, high = 5;
    for (int i = 0; i < 100; ++i) {
        const double x = 0.5 * (low + high);
        (x * std::exp(x * x) * std::erf(x) * std::sqrt(std::numbers::pi) < stefan ? low : high) = x;
    }
    for (const double minutes : {20.0, 60.0}) {
        heat.advance_to(60 * minutes, meets);
        const double spread = std::sqrt(k / c * heat.time_s());
        const double front_m = 2 * low * spread;
        double worst = 0;
        for (double x = 0.001; x < 0.9 * front_m; x += 0.001) {
            const double exact = face_k + (melt_k - face_k) * std::erf(x / (2 * spread)) / std::erf(low);
            worst = std::max(worst, std::abs(heat.temperature_at_k({x, 0.004, 0.004}) - exact));
        }
        // Of the latent heat, what the front passed.
        const double sensible =
            2 * k * (face_k - melt_k) * std::sqrt(heat.time_s() / (std::numbers::pi * k / c)) / std::erf(low);
        const double taken = heat.ledger().stored_j / (0.0085 * 0.0085);
        EXPECT_LT(worst, 1.0);
        EXPECT_NEAR(taken / sensible, 1, 0.01);
    }
}

TEST(Conduction, ClosesItsBooksForAFrozenBirdThatRoasts) {
    const auto body = body::prepare(body::make_bird({.mass_kg = 5.9}));
    const auto grid = test::grid_of(*body, 0.006);
    Conduction heat(grid, thermal_tables(body->body, *grid), 263.15);
    const std::vector<SurfaceExposure> meets(std::size_t(grid->triangle_count), {.air_k = 450,
                                                                                 .convection_w_m2k = 20,
                                                                                 .irradiation_w_m2 = 2500,
                                                                                 .wetness = 1,
                                                                                 .most_water_kg_m2s = 3e-4});
    heat.advance_to(3600, meets);
    EXPECT_LT(heat.ledger().imbalance(), 1e-4);
    // What walls of a hollow without a leak give each other sums to nothing.
    EXPECT_LT(std::abs(heat.ledger().hollows_j), 1e-4 * heat.ledger().outside_j);
    double skin = 0;
    for (const double joules : heat.heat_j()) skin += joules;
    EXPECT_NEAR(skin / heat.ledger().stored_j, 1, 1e-4);
}

// With the processors to itself, and while two others take what they can get.
TEST(Conduction, DoesNotDependOnWhoWorksWhen) {
    const auto body = body::prepare(body::make_bird({.mass_kg = 5.9}));
    const auto grid = test::grid_of(*body, 0.006);
    const auto run = [&] {
        auto heat = std::make_unique<Conduction>(grid, thermal_tables(body->body, *grid), 270);
        const std::vector<SurfaceExposure> meets(std::size_t(grid->triangle_count),
                                                 {.air_k = 450, .convection_w_m2k = 20, .wetness = 0.5});
        heat->advance_to(600, meets);
        return heat;
    };
    const auto alone = run();
    std::array<std::unique_ptr<Conduction>, 3> crowd;
    {
        std::vector<std::jthread> crew;
        for (auto& one : crowd) crew.emplace_back([&] { one = run(); });
    }
    for (const auto& one : crowd) {
        EXPECT_TRUE(std::equal(alone->temperature_k().begin(), alone->temperature_k().end(),
                               one->temperature_k().begin()));
        EXPECT_EQ(alone->ledger().stored_j, one->ledger().stored_j);
        EXPECT_EQ(alone->ledger().outside_j, one->ledger().outside_j);
    }
}

TEST(Conduction, StopsWhenAsked) {
    const auto body = test::lump(test::ball_mesh(radius_m, 40, 30));
    const auto meets = test::convection(body->body.parts[0].mesh, oven_k, coefficient);
    Conduction heat(test::grid_of(*body, 0.006), {chicken()}, start_k);
    std::stop_source source;
    int steps = 0;
    const auto watch = [&](const HeatMoment& moment) {
        EXPECT_GT(moment.to_s, moment.from_s);
        if (++steps == 3) source.request_stop();
    };
    EXPECT_THROW(heat.advance_to(3600, meets, {}, watch, source.get_token()), Stopped);
    EXPECT_EQ(steps, 3);
    EXPECT_EQ(heat.steps(), 3);
    heat.advance_to(3600, meets);
    EXPECT_EQ(heat.time_s(), 3600);
}

TEST(Conduction, RefusesWhatDoesNotFitTheGrid) {
    const auto body = test::lump(test::ball_mesh(radius_m, 20, 10));
    const auto grid = test::grid_of(*body, 0.01);
    EXPECT_THROW(Conduction(grid, {}, start_k), std::invalid_argument);
    Conduction heat(grid, {chicken()}, start_k);
    EXPECT_THROW(heat.advance_to(1, std::vector<SurfaceExposure>(3)), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
