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

/// What is not well known, see cook_course().
constexpr std::size_t doubts = 4;
/// By doubt, how many standard deviations it is off by.
using Deviations = std::array<double, doubts>;

RoastOptions doubted(RoastOptions options, const Deviations& off) {
    const auto grow = [](double& factor, double by, double deviations) {
        factor *= std::pow(by, deviations);
    };
    options.held_by_k += 8 * off[0];
    grow(options.open_pace, 1.25, off[0]);  // a fire that nobody reads off a thermometer; common practice
    grow(options.convection, 1.25, off[1]);
    grow(options.conductivity, 1.06, off[2]);
    grow(options.heat_capacity, 1.04, off[3]);
    return options;
}

/// What the coarse runs tell.
struct Doubts {
    double low = 1, high = 1;       ///< of the time when it comes off, over what it most likely is
    bool open = false;              ///< whether it may never come off: `high` is at least so much
    std::vector<double> even_turn;  ///< by item: index with an even turn, less that with the real one
};

/// The way in which doubts most likely move a time that far: in proportion to what each does by itself.
Deviations most_likely(const std::array<std::array<double, 2>, doubts>& moved, bool later) {
    Deviations way{};
    double sum = 0;
    for (std::size_t doubt = 0; doubt < doubts; ++doubt) {
        const auto [up, down] = moved[doubt];
        const bool goes_up = later ? up > down : up < down;
        const double by = later ? std::max({up, down, 0.0}) : -std::min({up, down, 0.0});
        way[doubt] = goes_up ? by : -by;
        sum += by * by;
    }
    // 90 of 100 lie within 1.645 standard deviations of a normal distribution's middle.
    constexpr double within = 1.645;
    for (double& deviations : way) deviations *= sum > 0 ? within / std::sqrt(sum) : 0;
    return way;
}

/// `main` are the options of the course that came off at `off_s`, if it did; what its patches see is seen
/// here too, as a coarser look at a fire moves the times by more than some of the doubts do.
Doubts find_doubts(const Assembly& assembly, const TimeShares& shares, const RoastOptions& main,
                   const std::optional<double>& off_s, const std::stop_token& stop) {
    RoastOptions coarse = coarse_roast();
    coarse.rest_s = 0;
    // A fire in the open burns down: what is not done in four times as long will hardly be done at all.
    if (off_s) coarse.longest_s = std::min(std::max(4 * *off_s, 3600.0), main.longest_s);
    coarse.fuel = false;
    coarse.cast = main.cast;
    // Of these one is cooked as if it turned evenly.
    const auto cooked = [&](const std::vector<RoastOptions>& all, std::optional<std::size_t> even = {}) {
        std::vector<RoastCourse> courses(all.size());
        parallel_for(
            all.size(),
            [&](std::size_t first, std::size_t last) {
                for (std::size_t n = first; n < last; ++n)
                    courses[n] = roast_course(assembly, all[n], n == even ? TimeShares{} : shares, {}, stop);
            },
            1);
        return courses;
    };
    const bool by_heat = off_s && !assembly.cook->duration_s;
    constexpr std::size_t plain = 0, even = 1, first_doubt = 2;
    std::vector<RoastOptions> all{coarse, coarse};
    for (std::size_t n = 0; n < 2 * doubts && by_heat; ++n) {
        Deviations off{};
        off[n / 2] = n % 2 == 0 ? 1 : -1;
        all.push_back(doubted(coarse, off));
    }
    const std::vector<RoastCourse> courses = cooked(all, even);
    Doubts found;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        found.even_turn.push_back(evenness(assembly.items[i], courses[even].skin_heat[i]).index -
                                  evenness(assembly.items[i], courses[plain].skin_heat[i]).index);
    }
    if (!by_heat) return found;
    const auto took_s = [&](const RoastCourse& course) { return course.off_s.value_or(coarse.longest_s); };
    const double plain_s = took_s(courses[plain]);
    std::array<std::array<double, 2>, doubts> moved{};
    for (std::size_t n = 0; n < 2 * doubts; ++n)
        moved[n / 2][n % 2] = std::log(took_s(courses[first_doubt + n]) / plain_s);
    const std::vector<RoastCourse> ends =
        cooked({doubted(coarse, most_likely(moved, false)), doubted(coarse, most_likely(moved, true))});
    found.low = std::min(1.0, took_s(ends[0]) / plain_s);
    found.high = std::max(1.0, took_s(ends[1]) / plain_s);
    found.open = !ends[1].off_s;
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
    if (options.spread && !roast.cast && can_roast(assembly)) {
        roast.cast =
            std::make_shared<FireCourse>(fire_course(assembly, fire_settings(assembly).value(), roast.views));
    }
    course.roast = roast_course(assembly, roast, shares, progress, stop);
    if (options.whole) course.retighten = retightening(assembly, course.roast);
    ask_along(course, assembly, options.whole ? swept_load(assembly) : SweptLoad{}, stop);
    for (std::size_t i = 0; i < assembly.items.size(); ++i)
        course.evenness.push_back(evenness(assembly.items[i], course.roast.skin_heat[i]));
    const std::optional<double>& off_s = course.roast.off_s;
    if (off_s) course.off_s = Range{*off_s, *off_s, *off_s};
    if (options.spread) {
        const Doubts found = find_doubts(assembly, shares, roast, off_s, stop);
        for (std::size_t i = 0; i < course.evenness.size(); ++i)
            course.evenness[i].index_even_turn += found.even_turn[i];
        if (off_s) {
            course.off_s->low = *off_s * found.low;
            course.off_s->high = *off_s * found.high;
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
