// SPDX-License-Identifier: MIT
#include "cook/cook_course.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "analysis/analysis.h"
#include "analysis/chance.h"
#include "cook/along.h"
#include "cook/evenness.h"
#include "cook/food_findings.h"
#include "units/parallel.h"
#include "units/stopped.h"

namespace evenspit::cook {
namespace {

/// Moments at which all questions are asked, at most, beside the last.
constexpr std::size_t most_asked = 24;

/// What is not well known, each off by one standard deviation to either side; see cook_course().
constexpr std::size_t doubts = 4;
RoastOptions doubted(RoastOptions options, std::size_t doubt, bool up) {
    const auto grow = [up](double& factor, double by) { factor = up ? factor * by : factor / by; };
    switch (doubt) {
        case 0:
            options.held_by_k += up ? 8 : -8;
            grow(options.open_pace, 1.25);  // a fire that nobody reads off a thermometer; common practice
            break;
        case 1:
            grow(options.convection, 1.25);
            break;
        case 2:
            grow(options.conductivity, 1.06);
            break;
        default:
            grow(options.heat_capacity, 1.04);
    }
    return options;
}

/// What the coarse runs tell.
struct Doubts {
    double sooner = 0, later = 0;   ///< a standard deviation of the logarithm of the time when it comes off
    bool open = false;              ///< whether it may never come off: `later` is at least so much
    std::vector<double> even_turn;  ///< by item: index with an even turn, less that with the real one
};

/// `main` are the options of the course that took until `off_s`; what its patches see is seen here too, as a
/// coarser look at a fire moves the times by more than some of the doubts do.
Doubts find_doubts(const Assembly& assembly, const TimeShares& shares, const RoastOptions& main, double off_s,
                   const std::stop_token& stop) {
    constexpr std::size_t plain = 2 * doubts, even = plain + 1, runs = plain + 2;
    std::array<RoastCourse, runs> courses;
    RoastOptions coarse = coarse_roast();
    coarse.rest_s = 0;
    // A fire in the open burns down: what is not done in four times as long will hardly be done at all.
    coarse.longest_s = std::min(std::max(4 * off_s, 3600.0), main.longest_s);
    coarse.fuel = false;
    coarse.cast = main.cast;
    parallel_for(
        runs,
        [&](std::size_t first, std::size_t last) {
            for (std::size_t n = first; n < last; ++n) {
                if (n < plain && assembly.cook->duration_s) continue;  // it comes off by the clock
                courses[n] = roast_course(assembly, n < plain ? doubted(coarse, n / 2, n % 2 == 0) : coarse,
                                          n == even ? TimeShares{} : shares, {}, stop);
            }
        },
        1);
    Doubts found;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        found.even_turn.push_back(evenness(assembly.items[i], courses[even].skin_heat[i]).index -
                                  evenness(assembly.items[i], courses[plain].skin_heat[i]).index);
    }
    if (assembly.cook->duration_s) return found;
    const auto took_s = [&](std::size_t n) { return courses[n].off_s.value_or(coarse.longest_s); };
    for (std::size_t n = 0; n <= plain; ++n) found.open = found.open || !courses[n].off_s;
    for (std::size_t doubt = 0; doubt < doubts; ++doubt) {
        const double up = std::log(took_s(2 * doubt) / took_s(plain)),
                     down = std::log(took_s(2 * doubt + 1) / took_s(plain));
        found.sooner = std::hypot(found.sooner, std::min({up, down, 0.0}));
        found.later = std::hypot(found.later, std::max({up, down, 0.0}));
    }
    return found;
}

/// What food_findings() tells.
bool is_of_cook(const Finding& finding) {
    constexpr std::array codes{Code::frozen_inside,   Code::undercooked, Code::not_done,  Code::by_carry_over,
                               Code::lukewarm,        Code::cool_cooker, Code::long_wait, Code::too_much_fuel,
                               Code::too_little_fuel, Code::small_bed};
    return std::find(codes.begin(), codes.end(), finding.code) != codes.end();
}

/// Where motor and grip have least left.
double strain(const Along& along) {
    return std::max({along.motor_use, along.torque_use.value_or(0), along.hold_use.value_or(0)});
}

void ask_along(CookCourse& course, const Assembly& assembly, const SweptLoad& swept,
               const std::stop_token& stop) {
    std::vector<const RoastMoment*> cooking;
    for (const RoastMoment& moment : course.roast.moments) {
        if (!moment.resting) cooking.push_back(&moment);
    }
    const std::size_t stride = (cooking.size() + most_asked - 1) / most_asked;
    std::vector<double> pushed_m(assembly.forks.size(), 0.0);
    std::size_t tightened = 0;
    for (std::size_t n = 0; n < cooking.size(); ++n) {
        if (n % stride != 0 && n + 1 != cooking.size()) continue;
        for (; tightened < course.retighten.size() && course.retighten[tightened].at_s <= cooking[n]->time_s;
             ++tightened)
            pushed_m[course.retighten[tightened].fork] += course.retighten[tightened].push_m;
        course.along.push_back(along_at(assembly, *cooking[n], swept, pushed_m, stop));
        if (strain(course.along.back()) > strain(course.along[course.worst]))
            course.worst = course.along.size() - 1;
    }
}

}  // namespace

CookCourse cook_course(const Assembly& assembly, const CookOptions& options, const RoastProgress& progress,
                       const std::stop_token& stop) {
    CookCourse course;
    const TimeShares shares = [](const Assembly& now, std::size_t angles) {
        return time_shares(now, angles);
    };
    RoastOptions roast = options.roast;
    if (options.spread && !roast.cast && can_roast(assembly))
        roast.cast =
            std::make_shared<FireCourse>(fire_course(assembly, fire_settings(assembly).value(), roast.views));
    course.roast = roast_course(assembly, roast, shares, progress, stop);
    if (options.whole) course.retighten = retightening(assembly, course.roast);
    ask_along(course, assembly, options.whole ? swept_load(assembly) : SweptLoad{}, stop);
    for (std::size_t i = 0; i < assembly.items.size(); ++i)
        course.evenness.push_back(evenness(assembly.items[i], course.roast.skin_heat[i]));
    const std::optional<double>& off_s = course.roast.off_s;
    if (off_s) course.off_s = Range{*off_s, *off_s, *off_s};
    if (options.spread) {
        const Doubts found = find_doubts(assembly, shares, roast, off_s.value_or(roast.longest_s), stop);
        for (std::size_t i = 0; i < course.evenness.size(); ++i)
            course.evenness[i].index_even_turn += found.even_turn[i];
        // 90 of 100 lie within 1.645 standard deviations of a normal distribution's middle.
        constexpr double within = 1.645;
        if (off_s) {
            course.off_s->low = *off_s * std::exp(-within * found.sooner);
            course.off_s->high = *off_s * std::exp(within * found.later);
            course.off_s->open = found.open;
        }
    }
    stop_if_asked(stop);
    course.findings = food_findings(assembly, course.roast, course.off_s);
    if (options.whole) {
        Analysis judged = judge(with_cook(assembly, course), options.mountings, stop);
        for (Finding& finding : judged.findings) {
            if (finding.level != Level::ready) course.findings.push_back(std::move(finding));
        }
        course.mounted = std::move(judged.mounted);
    }
    worst_first(course.findings);
    if (!course.findings.empty()) course.verdict = course.findings.front().level;
    return course;
}

Assembly with_cook(Assembly assembly, const CookCourse& course) {
    const RoastMoment* end = &off_moment(course.roast);
    // Flesh only softens and shrinks; what pulls at the motor may be worse before.
    const RoastMoment* pulls = end;
    const auto most =
        std::max_element(course.along.begin(), course.along.end(),
                         [](const Along& a, const Along& b) { return a.motor_use < b.motor_use; });
    constexpr double worse = 1.01;
    if (most != course.along.end() &&
        most->motor_use > worse * std::max(course.along.front().motor_use, course.along.back().motor_use)) {
        pulls = &*std::find_if(course.roast.moments.begin(), course.roast.moments.end(),
                               [&](const RoastMoment& moment) { return moment.time_s == most->time_s; });
    }
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        body::Matter cooked = end->items[i].matter;
        cooked.mass_kg = pulls->items[i].matter.mass_kg;
        cooked.centre = pulls->items[i].matter.centre;
        assembly.items[i].cooked = std::move(cooked);
    }
    if (assembly.cook) assembly.cook->cooked_after_s = pulls->time_s;
    return assembly;
}

CookedLoad cooked_load(Assembly assembly, const std::stop_token& stop) {
    if (!can_roast(assembly)) return {.load = std::move(assembly)};
    CookOptions options;
    options.roast = coarse_roast();
    options.spread = options.whole = false;
    CookCourse course = cook_course(assembly, options, {}, stop);
    Assembly load = with_cook(std::move(assembly), course);
    return {.load = std::move(load), .course = std::move(course)};
}

Assembly cooked_as(const Assembly& from, Assembly load) {
    if (!from.cook || !load.cook || from.items.size() != load.items.size()) return load;
    for (std::size_t i = 0; i < load.items.size(); ++i) load.items[i].cooked = from.items[i].cooked;
    load.cook->cooked_after_s = from.cook->cooked_after_s;
    return load;
}

JudgedLoad judged_load(Assembly assembly, int mountings, const std::stop_token& stop) {
    CookedLoad cooked = cooked_load(std::move(assembly), stop);
    JudgedLoad judged{std::move(cooked.load), {}};
    judged.analysis = judge(judged.load, mountings, stop);
    if (cooked.course) add_cook(judged.analysis, *cooked.course);
    return judged;
}

JudgedLoad judged_load(Assembly assembly, const CookCourse& course, int mountings,
                       const std::stop_token& stop) {
    JudgedLoad judged{with_cook(std::move(assembly), course), {}};
    judged.analysis = judge(judged.load, mountings, stop);
    add_cook(judged.analysis, course);
    return judged;
}

void add_cook(Analysis& analysis, const CookCourse& course) {
    std::erase_if(analysis.findings, is_of_cook);
    for (const Finding& finding : course.findings) {
        if (is_of_cook(finding)) analysis.findings.push_back(finding);
    }
    worst_first(analysis.findings);
    if (!analysis.findings.empty()) analysis.verdict = analysis.findings.front().level;
}

}  // namespace evenspit::cook
