// SPDX-License-Identifier: MIT
#include "cook/food_findings.h"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "analysis/limits.h"
#include "cook/schedule.h"
#include "rig/plane_room.h"
#include "roast/cooker_air.h"

namespace evenspit::cook {
namespace {

using Findings = std::vector<Finding>;

Thing item_thing(std::size_t item) {
    return {Thing::Kind::item, item};
}

std::optional<double> told_start_k(const Assembly& assembly) {
    return assembly.cook ? assembly.cook->start_temperature_k : std::nullopt;
}

const ItemMoment* at_start(const RoastCourse& course, std::size_t item) {
    if (course.moments.empty() || item >= course.moments.front().items.size()) return nullptr;
    return &course.moments.front().items[item];
}

void frozen(Findings& out, const Assembly& assembly, const RoastCourse& course) {
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        if (!starts_frozen(assembly, course, i)) continue;
        const ItemMoment* start = at_start(course, i);
        const double mass_kg = assembly.items[i].body->mass.amount;
        out.push_back(
            {.level = Level::stop,
             .code = Code::frozen_inside,
             .about = item_thing(i),
             .value = start != nullptr ? start->coldest_k : told_start_k(assembly),
             .facts = FrozenFacts{mass_kg, thaw_in_refrigerator_s(mass_kg), thaw_in_cold_water_s(mass_kg)}});
    }
}

/// A place with what it went through, of one item.
struct Seen {
    std::size_t at = 0;
    const RoastPlace& place;
    const PlaceCourse& course;
};

std::vector<Seen> places_of_item(const RoastCourse& course, std::size_t item) {
    std::vector<Seen> seen;
    for (std::size_t p = 0; p < course.places.size(); ++p) {
        if (course.places[p].item == item) seen.push_back({p, course.places[p], course.place_courses[p]});
    }
    return seen;
}

/// The core is the coldest of all flesh: where it is that of a place that has a name, the name says more.
constexpr double same_point_k = 0.5;

std::vector<std::string> names_worst_first(std::vector<const Seen*>& places) {
    std::stable_sort(places.begin(), places.end(), [](const Seen* a, const Seen* b) {
        return a->course.peak_k - *a->place.safe_k < b->course.peak_k - *b->place.safe_k;
    });
    const auto core = std::find_if(places.begin(), places.end(),
                                   [](const Seen* s) { return s->place.kind == PlaceKind::core; });
    const bool told_by_another =
        core != places.end() && std::any_of(places.begin(), places.end(), [&](const Seen* s) {
            const PlaceKind kind = s->place.kind;
            return kind != PlaceKind::core && kind != PlaceKind::stuffing &&
                   s->course.peak_k < (*core)->course.peak_k + same_point_k;
        });
    if (told_by_another) places.erase(core);
    std::vector<std::string> names;
    names.reserve(places.size());
    for (const Seen* seen : places) names.push_back(seen->place.name);
    return names;
}

void undercooked(Findings& out, const std::vector<Seen>& places, std::size_t item) {
    std::vector<const Seen*> under;
    for (const Seen& seen : places) {
        if (seen.place.safe_k && seen.course.peak_k < *seen.place.safe_k) under.push_back(&seen);
    }
    if (under.empty()) return;
    std::vector<std::string> names = names_worst_first(under);
    out.push_back({.level = Level::stop,
                   .code = Code::undercooked,
                   .about = item_thing(item),
                   .value = under.front()->course.peak_k,
                   .limit = under.front()->place.safe_k,
                   .facts = PlacesFacts{std::move(names)}});
}

/// The last moment before the load comes off; null if none was kept.
const RoastMoment* as_it_comes_off(const RoastCourse& course) {
    const RoastMoment* last = nullptr;
    for (const RoastMoment& moment : course.moments) {
        if (!moment.resting) last = &moment;
    }
    return last;
}

void by_carry_over(Findings& out, const RoastCourse& course, const std::vector<Seen>& places,
                   std::size_t item) {
    if (!course.off_s) return;
    std::vector<const Seen*> late;
    double last_s = 0;
    for (const Seen& seen : places) {
        if (!seen.place.safe_k || seen.course.peak_k < *seen.place.safe_k) continue;
        const double safe_s = seen.course.safe_s.value_or(seen.course.peak_s);
        if (safe_s <= *course.off_s) continue;
        late.push_back(&seen);
        last_s = std::max(last_s, safe_s);
    }
    if (late.empty()) return;
    std::vector<std::string> names = names_worst_first(late);
    const Seen& worst = *late.front();
    const RoastMoment* off = as_it_comes_off(course);
    Finding finding{.level = Level::ready, .code = Code::by_carry_over, .about = item_thing(item)};
    if (off != nullptr && worst.at < off->places_k.size()) finding.value = off->places_k[worst.at];
    finding.facts = CarryOverFacts{std::move(names), *worst.place.safe_k, last_s - *course.off_s};
    out.push_back(std::move(finding));
}

void lukewarm(Findings& out, const std::vector<Seen>& places, std::size_t item) {
    Finding worst{.level = Level::care, .code = Code::lukewarm, .about = item_thing(item)};
    double most = 1;
    const auto consider = [&](double seconds, double limit_s, LukewarmFacts facts) {
        if (!(seconds / limit_s > most)) return;
        most = seconds / limit_s;
        worst.value = seconds;
        worst.limit = limit_s;
        worst.facts = std::move(facts);
    };
    for (const Seen& seen : places) {
        consider(seen.course.lukewarm_s, limits::lukewarm_care_s,
                 {seen.place.name, limits::lukewarm_from_k, limits::lukewarm_to_k, false});
        consider(seen.course.come_up_s, limits::come_up_care_s,
                 {seen.place.name, limits::come_up_from_k, limits::come_up_to_k, true});
    }
    if (worst.value) out.push_back(std::move(worst));
}

/// What the thermometer shows in the mean over the second half of the cook, when walls and load have
/// settled; absent in the open, where it shows the weather.
std::optional<double> settled_k(const Assembly& assembly, const RoastCourse& course) {
    const RoastMoment* last = as_it_comes_off(course);
    const double ambient_k = assembly.cook ? assembly.cook->fire.weather_k : 0;
    const CookerShell shell = shell_of(assembly.cooker, ambient_k);
    if (last == nullptr || is_oven(shell) || !(shell.area_m2 > 0)) return std::nullopt;
    double sum_k = 0;
    int count = 0;
    for (const RoastMoment& moment : course.moments) {
        if (moment.resting || moment.time_s < last->time_s / 2) continue;
        sum_k += moment.shown_k;
        ++count;
    }
    return sum_k / count;
}

void cool_cooker(Findings& out, const Assembly& assembly, const RoastCourse& course) {
    if (burns_in_the_open(assembly.cooker)) return;
    std::optional<double> cooker_k = assembly.cook ? assembly.cook->cooker_temperature_k : std::nullopt;
    if (const std::optional<double> shown_k = settled_k(assembly, course))
        cooker_k = std::min(cooker_k.value_or(*shown_k), *shown_k);
    if (!cooker_k || *cooker_k >= limits::cooker_care_k) return;
    out.push_back({.level = Level::care,
                   .code = Code::cool_cooker,
                   .value = *cooker_k,
                   .limit = limits::cooker_care_k});
}

void not_done(Findings& out, const RoastCourse& course, const std::vector<Seen>& places, std::size_t item) {
    if (course.off_s) return;
    std::vector<std::string> names;
    for (const Seen& seen : places) {
        if (seen.place.pull_k && !seen.course.pull_s) names.push_back(seen.place.name);
    }
    if (names.empty()) return;
    Finding finding{.level = Level::stop, .code = Code::not_done, .about = item_thing(item)};
    if (const RoastMoment* last = as_it_comes_off(course)) finding.value = last->time_s;
    finding.facts = PlacesFacts{std::move(names)};
    out.push_back(std::move(finding));
}

void long_wait(Findings& out, const Assembly& assembly, const std::optional<Range>& off) {
    if (!off || !assembly.cook || !assembly.cook->serve_s) return;
    const double wait_s = off->high - off->low;
    if (!(wait_s > limits::wait_care_s)) return;
    out.push_back(
        {.level = Level::ready, .code = Code::long_wait, .value = wait_s, .limit = limits::wait_care_s});
}

void fuel(Findings& out, const FuelPlan& plan) {
    const double given_kg = plan.laid_kg + plan.too_much_kg;
    const auto care = [&](Code code) {
        out.push_back({.level = Level::care,
                       .code = code,
                       .value = given_kg,
                       .limit = plan.laid_kg,
                       .facts = FuelFacts{plan.laid_kg, plan.cannot_hold_by_k}});
    };
    const bool too_hot = plan.cannot_hold_by_k > limits::too_hot_care_k;
    if (plan.too_much_kg > limits::fuel_over_care * plan.laid_kg || too_hot) care(Code::too_much_fuel);
    if (plan.too_much_kg < -limits::fuel_short_care * plan.laid_kg) care(Code::too_little_fuel);
    if (!plan.enough_bed) {
        const double length_m = plan.bank_to_m - plan.bank_from_m;
        // Nothing wrong with the load: whoever tends the fire adds to it.
        out.push_back({.level = Level::ready,
                       .code = Code::small_bed,
                       .value = length_m * plan.bank_width_m,
                       .facts = BedFacts{plan.laid_kg, length_m, plan.bank_width_m}});
    }
}

}  // namespace

bool starts_frozen(const Assembly& assembly, const RoastCourse& course, std::size_t item) {
    const ItemMoment* start = at_start(course, item);
    if (start != nullptr && start->ice_share > 0) return true;
    const std::optional<double> told_k = told_start_k(assembly);
    return told_k && *told_k < limits::freezes_k;
}

std::vector<Finding> food_findings(const Assembly& assembly, const RoastCourse& course,
                                   const std::optional<Range>& off) {
    Findings out;
    frozen(out, assembly, course);
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const std::vector<Seen> places = places_of_item(course, i);
        undercooked(out, places, i);
        not_done(out, course, places, i);
        lukewarm(out, places, i);
        by_carry_over(out, course, places, i);
    }
    cool_cooker(out, assembly, course);
    long_wait(out, assembly, off);
    if (course.fuel) fuel(out, *course.fuel);
    std::stable_sort(out.begin(), out.end(),
                     [](const Finding& a, const Finding& b) { return a.level > b.level; });
    return out;
}

}  // namespace evenspit::cook
