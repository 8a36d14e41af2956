// SPDX-License-Identifier: MIT
// The roll test end to end: loads whose truth is hidden from the estimate are rolled, weighed by a hung
// weight, trimmed, and held against what was claimed.
//
// Truth is the load mounted with fresh normal deviates, not those of Mountings. Of it only the balance is
// asked: whether a load is ready is decided here by the motor's use alone, which is exact for loads that
// nothing else stops (judge() takes the same mountings; see TheVerdictTakesTheSameMountings).
#include "trim/roll_simulation.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "analysis/balance.h"
#include "analysis/limits.h"
#include "analysis/loads.h"
#include "analysis/rod_check.h"
#include "analysis/roll_stand.h"
#include "load/arrangement.h"
#include "plan/counterweight_search.h"
#include "support/sweep.h"
#include "trim/trim.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::Chance01;
using test::FreeRod;

/// Boxes of meat, the rod beside their middle.
Assembly boxes(std::vector<Vec2> offsets_m, double size_m, double friction) {
    Assembly a = test::good_load();
    a.items.clear();
    const double half = 0.1 / static_cast<double>(offsets_m.size());
    for (std::size_t i = 0; i < offsets_m.size(); ++i) {
        a.items.push_back(test::item(
            "roast", test::flesh(test::box_mesh({-half, -size_m, -size_m}, {half, size_m, size_m})),
            0.34 + half * (2 * static_cast<double>(i) + 1 - static_cast<double>(offsets_m.size())),
            offsets_m[i]));
    }
    a.motor.friction_torque_n_m.reset();
    a.motor.support_friction = friction;
    a.stock = {{.mass_kg = 0.15, .radius_min_m = 0.02, .radius_max_m = 0.12, .diameter_m = 0.03},
               {.mass_kg = 0.3, .radius_min_m = 0.02, .radius_max_m = 0.12, .diameter_m = 0.04},
               {.mass_kg = 0.8, .radius_min_m = 0.02, .radius_max_m = 0.12, .diameter_m = 0.05}};
    return a;
}

struct Scene {
    const char* name;
    Assembly load;
    RollsOn on;
};

std::vector<Scene> scenes() {
    return {{"box", boxes({{0.003, -0.002}}, 0.07, 0.15), RollsOn::bushings},
            {"off the middle", boxes({{0.012, 0.006}}, 0.06, 0.15), RollsOn::bushings},
            {"two on rollers", boxes({{0.004, 0}, {-0.002, 0.006}}, 0.07, 0.18), RollsOn::rollers},
            {"heavy", boxes({{0, 0.004}}, 0.08, 0.15), RollsOn::journals}};
}

/// A torque of the motor over a turn, at its peak.
double motor_torque_n_m(const Assembly& load) {
    const std::vector<TurningMass> masses = turning_masses(load, Doneness::raw);
    const Balance free = balance(masses, load.motor, 0);
    const auto [drive, far] = load.rod.supports_m;
    const double far_n = standard_gravity * free.mass_kg * (free.centre_x_m - drive) / (far - drive);
    return free.gravity_torque_peak_n_m + friction_torque(load.motor, load.rod, {0, far_n});
}

/// What came of one load.
struct Ending {
    bool done = false;
    double before_n_m = 0, after_n_m = 0;  ///< true torque of gravity at its peak
    double claimed = 0;                    ///< share of mountings that the motor turns
    bool ready = false;                    ///< the truth
};

class Kitchen {
  public:
    Kitchen(const Scene& scene, unsigned seed) : scene_(scene), chance_(seed) {}

    /// \param claims 0: none is made; otherwise from how many mountings
    Ending roll_one(std::size_t claims) {
        const Assembly truth = hidden_truth();
        RollTest test{.on = scene_.on};
        const Vec2 u = rolled_unbalance(truth, test);
        const FreeRod rod{u, stand_friction_n_m(truth, test, false)};
        Ending ending;
        ending.before_n_m = standard_gravity * u.norm();
        if (const auto down = test::rest_of(rod, chance_)) {
            test.down_rad = whole_degrees(*down + test.read_rad * chance_.normal());
            if (!hang_a_weight(test, truth, rod)) return ending;
        }
        Assembly rolled = scene_.load;
        rolled.roll_tests = {test};
        const RollBelief belief(rolled);
        const Assembly believed = belief.load();
        const double friction = stand_friction_n_m(rolled, {}, false) / 2;
        const plan::CounterweightGoal goal = trim_goal(rolled, believed, friction);
        Assembly trimmed = rolled;
        trimmed.counterweights = plan::find_counterweights(goal).weights;
        Assembly really = truth;
        for (const Counterweight& weight : trimmed.counterweights)
            really.counterweights.push_back(clamped(weight));
        ending.done = true;
        std::vector<std::size_t> all(really.counterweights.size());
        for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
        ending.after_n_m = standard_gravity * rolled_unbalance(really, {.counterweights = all}).norm();
        if (claims > 0) claim(ending, trimmed, really, claims);
        return ending;
    }

  private:
    Assembly hidden_truth() {
        const Mountings inputs(scene_.load, 0);
        std::vector<double> deviates(inputs.width());
        for (double& x : deviates) x = chance_.normal();
        Assembly truth = scene_.load;
        inputs.mount_by(truth, deviates);
        return truth;
    }

    /// Of a weight whose unbalance the cook brought there by trying, what is read off afterwards.
    bool hang_a_weight(RollTest& test, const Assembly& truth, const FreeRod& rod) {
        const double mass_kg = 0.3;
        test.hung = HungWeight{mass_kg, 0.08, 0};
        const auto held =
            test::balanced_by_hand(rod, stand_friction_n_m(truth, test, true), *test.down_rad,
                                   mass_kg * (0.03 + 0.1 * chance_.uniform()), mass_kg * 0.02, chance_);
        if (!held) return false;
        const Spread& s = scene_.load.spread;
        const double real_mass = mass_kg * (1 + s.counterweight_mass * chance_.normal());
        test.hung->radius_m =
            whole_mm(std::max(0.001, held->norm() / real_mass + s.counterweight_radius_m * chance_.normal()));
        test.hung->clock_rad =
            whole_degrees(std::atan2(held->y(), held->x()) + s.counterweight_clock_rad * chance_.normal());
        return true;
    }

    /// A counterweight as hands put it on.
    Counterweight clamped(Counterweight weight) {
        const Spread& s = scene_.load.spread;
        weight.mass_kg *= 1 + s.counterweight_mass * chance_.normal();
        weight.radius_m += s.counterweight_radius_m * chance_.normal();
        weight.clock_rad += s.counterweight_clock_rad * chance_.normal();
        return weight;
    }

    /// The motor is one that most such loads can be turned by, so that the claim lies near 90 of 100.
    void claim(Ending& ending, const Assembly& trimmed, const Assembly& really, std::size_t count) {
        Mountings mountings = believed_mountings(trimmed, count);
        Assembly work = trimmed;
        std::vector<double> torques;
        for (std::size_t k = 0; k < count; ++k) {
            mountings.mount(work, k);
            torques.push_back(motor_torque_n_m(work));
        }
        std::vector<double> sorted = torques;
        std::sort(sorted.begin(), sorted.end());
        const double share = 0.86 + 0.08 * chance_.uniform();
        const double rated_n_m =
            sorted[static_cast<std::size_t>(share * static_cast<double>(count))] / limits::motor_care;
        const auto turned = [rated_n_m](double torque) { return torque / rated_n_m < limits::motor_care; };
        ending.claimed = static_cast<double>(std::count_if(torques.begin(), torques.end(), turned)) /
                         static_cast<double>(count);
        ending.ready = turned(motor_torque_n_m(really));
    }

    const Scene& scene_;
    Chance01 chance_;
};

double p95(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    return values[values.size() * 95 / 100];
}

TEST(RollSimulation, AFreeRodComesToRestWithinTheBand) {
    Chance01 chance(3);
    FreeRod rod{{0.02, 0.01}, 0.05};
    const double heavy = std::atan2(0.01, 0.02),
                 band = std::asin(0.05 / (standard_gravity * rod.unbalance_kg_m.norm()));
    double widest = 0;
    for (int i = 0; i < 400; ++i) {
        const double off = std::remainder(test::rest_of(rod, chance).value() - heavy, 2 * pi);
        EXPECT_LE(std::abs(off), band * 1.02);
        widest = std::max(widest, std::abs(off));
    }
    EXPECT_GT(widest, 0.7 * band);
    rod.friction_n_m = 0.3;
    EXPECT_FALSE(test::rest_of(rod, chance).has_value());
}

TEST(RollSimulation, OneTestAndTheTrimTakeOutWhatIsToBeHad) {
    for (const Scene& scene : scenes()) {
        const std::size_t count = test::sweep_sets(std::string(scene.name) == "box" ? 500 : 200, 4);
        Kitchen kitchen(scene, 11);
        std::vector<double> before, after;
        while (before.size() < count) {
            const Ending ending = kitchen.roll_one(0);
            if (!ending.done) continue;
            before.push_back(ending.before_n_m);
            after.push_back(ending.after_n_m);
        }
        const double dead_band = stand_friction_n_m(scene.load, {.on = scene.on}, false);
        RecordProperty(scene.name, std::to_string(p95(before)) + " " + std::to_string(p95(after)));
        EXPECT_LE(p95(after), std::max(p95(before) / 5, dead_band))
            << scene.name << ": before " << p95(before) << " N m, friction " << dead_band << " N m";
    }
}

TEST(RollSimulation, ClaimedChancesAreKept) {
    const std::size_t each = test::sweep_sets(110, 2);
    std::size_t claims = 0, kept = 0;
    double claimed = 0;
    for (const Scene& scene : scenes()) {
        Kitchen kitchen(scene, 29);
        for (std::size_t done = 0; done < each;) {
            const Ending ending = kitchen.roll_one(256);
            if (!ending.done) continue;
            ++done;
            if (ending.claimed < 0.85 || ending.claimed > 0.95) continue;
            ++claims;
            claimed += ending.claimed;
            kept += ending.ready ? 1 : 0;
        }
    }
    if (each >= 55) {
        ASSERT_GE(claims, 3 * each);
    }
    const double share = static_cast<double>(kept) / static_cast<double>(claims);
    RecordProperty("kept", std::to_string(share));
    EXPECT_GE(share, 0.85) << claims << " claims, " << claimed / static_cast<double>(claims) << " on average";
    EXPECT_LE(share, 0.95) << claims << " claims, " << claimed / static_cast<double>(claims) << " on average";
}

TEST(RollSimulation, TheVerdictTakesTheSameMountings) {
    Scene scene = scenes()[1];
    scene.load.roll_tests = {
        {.down_rad = 30 * test::degree, .hung = HungWeight{0.3, 0.08, 210 * test::degree}}};
    const Analysis judged = judge(scene.load, 64);
    Mountings mountings = believed_mountings(scene.load, 64);
    std::vector<double> torques;
    for (std::size_t k = 0; k < 64; ++k)
        torques.push_back(balance(turning_masses(mountings.mounting(k), Doneness::raw), scene.load.motor, 0)
                              .gravity_torque_peak_n_m);
    std::sort(torques.begin(), torques.end());
    EXPECT_NEAR(judged.uncertainty->gravity_torque_p95_n_m, torques[60], 1e-12);
}

}  // namespace
}  // namespace evenspit
