// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <stop_token>
#include <vector>

#include "analysis/analysis.h"
#include "roast/roast_course.h"

namespace evenspit::cook {

/// Balance, turning, rod and grip at one moment of a cook, with the forks as they were set at its start.
struct Along {
    double time_s = 0;
    double mass_kg = 0;                  ///< of the items
    Vec2 unbalance_kg_m = Vec2::Zero();  ///< of all that turns, rod frame
    double gravity_torque_n_m = 0;
    double motor_use = 0;
    bool stalls = false;
    std::optional<double> irregularity{};
    double sag_m = 0;
    std::optional<double> gap_m{};       ///< the least
    std::optional<double> torque_use{};  ///< of what the forks hold
    std::optional<double> hold_use{};    ///< weight and torque together on the worst tine
    /// The same two, had the forks been pushed in when Retighten says.
    std::optional<double> torque_use_tightened{}, hold_use_tightened{};
};

/// When to stop the motor and push a fork in, with what it takes.
struct Retighten {
    double at_s = 0;  ///< after the load goes in
    std::size_t fork = 0;
    double push_m = 0;
};

/// A time that is not known to the minute.
struct Range {
    double low = 0, middle = 0, high = 0;
    bool open = false;  ///< `high` is the least that it may be: nobody can tell whether it ends at all
};

/// How evenly the skin is heated.
struct Evenness {
    /// 1 − (standard deviation over mean) of the heat that its outside took up, by area.
    double index = 1;
    double index_even_turn = 1;      ///< the same, were the load in perfect balance
    std::vector<double> round_j_m2;  ///< mean in each of 24 sectors of the clock, from clock 0 on
    std::vector<double> along_j_m2;  ///< mean in each of 24 stretches from its least station on
    double along_from_m = 0, along_to_m = 0;
    double hottest_over_mean = 1;  ///< of patches of skin about 3 cm wide
    Vec3 hottest = Vec3::Zero();   ///< item frame
};

/// A cook with everything that follows from it.
struct CookCourse {
    RoastCourse roast;
    std::vector<Along> along;  ///< at the moments before the load comes off
    std::size_t worst = 0;     ///< of `along`: where motor and grip have least left
    std::vector<Retighten> retighten;
    std::optional<Range> off_s{};      ///< when it comes off; absent if it does not
    std::vector<Evenness> evenness;    ///< by item
    std::vector<Finding> findings;     ///< what asks for care or worse at any time, and of food; worst first
    Level verdict = Level::ready;      ///< of the findings
    std::optional<Mounted> mounted{};  ///< how the load fares in many mountings; absent: none were tried
};

struct CookOptions {
    RoastOptions roast{};
    /// Whether it is worked out how far off the times may be and what an even turn would give, by a few
    /// coarse runs.
    bool spread = true;
    /// Whether gaps are followed, it is told when to push forks in, and findings are all of the load's as the
    /// cook leaves it; else those of food and fire alone, for callers that judge the load themselves.
    bool whole = true;
    /// With `whole`: how many mountings of the load the cook's worst is judged in, as judge() does; 0: as
    /// written only.
    int mountings = 0;
};

/// Cooks a load and asks all questions along the way.
///
/// How far off the time may be when it comes off is found by runs on coarse cells, first with each doubt
/// greater or less by its standard deviation: the cooker 8 K hotter or cooler (a thermometer's error and a
/// fire's wandering; common practice) or a fire in the open a quarter faster or slower (common practice),
/// convection by 25 % (what the correlations are good for), conductivity by 6 % and heat capacity by 4 %
/// (measured meat against Choi and Okos; from memory). Then once to either side with all of them off
/// together, 1.645 standard deviations along the way that moves the time most, as first-order reliability has
/// it (A. M. Hasofer, N. C. Lind, J. Eng. Mech. Div. 100:111–121 (1974)): 90 of 100 cooks lie between. The
/// last degrees take ever longer, the more so over a fire that burns down, so that the two sides differ.
///
/// \throws Stopped once asked to \throws std::invalid_argument if !can_roast()
CookCourse cook_course(const Assembly& assembly, const CookOptions& options = {},
                       const RoastProgress& progress = {}, const std::stop_token& stop = {});

/// The load with what the cook makes of its items at the worst: Item::cooked, Cook::cooked_after_s.
///
/// The end of the cook, where items are lightest and softest, unless a moment before it pulls harder at the
/// motor.
Assembly with_cook(Assembly assembly, const CookCourse& course);

/// A load with its cook worked out coarsely, if enough is told of it.
struct CookedLoad {
    Assembly load;
    std::optional<CookCourse> course{};  ///< absent: nothing was computed, `load` is as it was
};
CookedLoad cooked_load(Assembly assembly, const std::stop_token& stop = {});

/// `load`, with what the cook of `from` makes of its items, if it has as many: for a load that was changed in
/// ways that a cook hardly feels.
Assembly cooked_as(const Assembly& from, Assembly load);

/// A load as it is judged, its cook counted in.
struct JudgedLoad {
    Assembly load;
    Analysis analysis;
};

/// cooked_load(), judge() and add_cook().
JudgedLoad judged_load(Assembly assembly, int mountings, const std::stop_token& stop = {});
/// The same with the load's cook at hand.
JudgedLoad judged_load(Assembly assembly, const CookCourse& course, int mountings,
                       const std::stop_token& stop = {});

/// Adds what a cook asks of an analysis of its load in place of what it asked before, and judges it anew.
void add_cook(Analysis& analysis, const CookCourse& course);

}  // namespace evenspit::cook
