// SPDX-License-Identifier: MIT
#include "cook/schedule.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cook/food_findings.h"
#include "roast/cooker_air.h"
#include "units/unit_table.h"

namespace evenspit::cook {
namespace {

constexpr double minute_s = 60, hour_s = 3600;

// How long hands take for what: common practice. From the refrigerator to the fire it is an hour and a
// quarter, within the two hours that the USDA gives raw food outside.
constexpr double prepare_takes_s = 15 * minute_s;
constexpr double truss_takes_s = 15 * minute_s;
constexpr double spit_takes_s = 45 * minute_s;
constexpr double spitted_before_s = 15 * minute_s;
constexpr double carve_takes_s = 10 * minute_s;

// Common practice: as long as flavours need to get under the skin.
constexpr double marinade_s = 3 * hour_s, marinade_turned_every_s = 15 * minute_s;

// Common practice: an hour early, so that there is time to mend a fire that does not catch.
constexpr double least_lit_before_s = hour_s;
// Common practice: a quarter of an hour warms an oven.
constexpr double least_preheat_s = 15 * minute_s;

// Common practice: a load that slips or a motor that labours shows within some ten turns.
constexpr double motor_checked_after_s = 5 * minute_s;

// Common practice: early enough to see how fast it rises.
constexpr double checked_before_s = 15 * minute_s;
constexpr double checked_every_s = 10 * minute_s;

// USDA FSIS, "The Big Thaw".
constexpr double water_changed_every_s = 30 * minute_s;
constexpr double refrigerator_s_per_lb = 24 * hour_s / 4;
constexpr double cold_water_s_per_lb = 30 * minute_s;

constexpr double full_minutes_s = 5 * minute_s;

class StepWriter {
  public:
    explicit StepWriter(const ScheduleNeed& need) : need_(need) {
        on_s_ = need.serve_s
                    ? full_minutes_s *
                          std::floor((*need.serve_s - carve_takes_s - need.rest_s - need.off_s.high) /
                                     full_minutes_s)
                    : 0;
    }

    [[nodiscard]] Schedule written() {
        before_the_fire();
        cooking();
        done();
        std::stable_sort(steps_.begin(), steps_.end(),
                         [](const Step& a, const Step& b) { return a.from_s < b.from_s; });
        const double rested_s = on_s_ + need_.rest_s;
        return {.by_clock = need_.serve_s.has_value(),
                .bird = need_.bird,
                .stuffed = need_.stuffed,
                .watched = need_.watched,
                .last = need_.last,
                .on_s = on_s_,
                .ready_s = {rested_s + need_.off_s.low, rested_s + need_.off_s.middle,
                            rested_s + need_.off_s.high, need_.off_s.open},
                .serve_s = need_.serve_s,
                .steps = std::move(steps_)};
    }

  private:
    void add(StepKind kind, double from_s, double to_s, double every_s = 0) {
        steps_.push_back({.kind = kind, .from_s = from_s, .to_s = to_s, .every_s = every_s});
    }

    void before_the_fire() {
        const double spit_s = on_s_ - spitted_before_s - spit_takes_s, truss_s = spit_s - truss_takes_s;
        const double prepare_s = truss_s - marinade_s - prepare_takes_s;
        if (need_.frozen) {
            add(StepKind::thaw_in_refrigerator, prepare_s - thaw_in_refrigerator_s(need_.mass_kg), prepare_s);
            const double out_of_water_s = truss_s - prepare_takes_s;
            add(StepKind::thaw_in_cold_water, out_of_water_s - thaw_in_cold_water_s(need_.mass_kg),
                out_of_water_s, water_changed_every_s);
        }
        add(StepKind::prepare, prepare_s, prepare_s + prepare_takes_s);
        add(StepKind::marinate, truss_s - marinade_s, truss_s, marinade_turned_every_s);
        add(StepKind::truss, truss_s, spit_s);
        const double lit_s = std::max(need_.lit_before_s, need_.fire ? least_lit_before_s : least_preheat_s);
        add(need_.fire ? StepKind::light_fire : StepKind::preheat, on_s_ - lit_s, on_s_);
        add(StepKind::spit, spit_s, spit_s + spit_takes_s);
    }

    void cooking() {
        const Range& off = need_.off_s;
        const double check_s = std::max(off.low - checked_before_s, off.low / 2);
        add(StepKind::load_on, on_s_, on_s_);
        if (motor_checked_after_s < off.low)
            add(StepKind::check_motor, on_s_ + motor_checked_after_s, on_s_ + motor_checked_after_s);
        const Basting usual = usual_basting(off.middle);
        const double first_s = need_.baste ? need_.baste->from_s.value_or(usual.first_s) : usual.first_s;
        if (first_s < off.low) {
            add(StepKind::baste, on_s_ + first_s, on_s_ + off.low,
                need_.baste ? need_.baste->every_s : usual.every_s);
        }
        for (const Retighten& r : need_.retighten) {
            if (r.at_s >= off.high) continue;
            if (steps_.back().kind != StepKind::retighten || steps_.back().from_s != on_s_ + r.at_s)
                add(StepKind::retighten, on_s_ + r.at_s, on_s_ + r.at_s);
            steps_.back().pushes.push_back(r);
        }
        add(StepKind::start_checking, on_s_ + check_s, on_s_ + off.high, checked_every_s);
    }

    void done() {
        const double last_off_s = on_s_ + need_.off_s.high;
        add(StepKind::take_off, on_s_ + need_.off_s.low, last_off_s);
        add(StepKind::rest, last_off_s, last_off_s + need_.rest_s);
        const double carve_s = last_off_s + need_.rest_s;
        const double served_s = need_.serve_s.value_or(carve_s + carve_takes_s);
        add(StepKind::carve, served_s - carve_takes_s, served_s);
    }

    const ScheduleNeed& need_;
    double on_s_ = 0;
    std::vector<Step> steps_;
};

bool is_stuffed(const Item& item) {
    const std::vector<PlaceKind> places = places_of(item);
    return std::find(places.begin(), places.end(), PlaceKind::stuffing) != places.end();
}

}  // namespace

double thaw_in_refrigerator_s(double mass_kg) {
    return mass_kg / unit_factors::pound * refrigerator_s_per_lb;
}

double thaw_in_cold_water_s(double mass_kg) {
    return mass_kg / unit_factors::pound * cold_water_s_per_lb;
}

std::optional<ScheduleNeed> schedule_need(const Assembly& assembly, const CookCourse& course) {
    if (!course.off_s || !assembly.cook) return std::nullopt;
    const CookFire& fire = assembly.cook->fire;
    ScheduleNeed need{.serve_s = assembly.cook->serve_s,
                      .off_s = *course.off_s,
                      .retighten = course.retighten,
                      .baste = fire.baste};
    need.fire = course.roast.fuel && fire.fuel != FuelKind::gas;
    if (course.roast.fuel) need.lit_before_s = course.roast.fuel->lit_before_s;
    for (const Item& item : assembly.items) {
        need.mass_kg = std::max(need.mass_kg, item.body->mass.amount);
        need.bird = need.bird || item.bird;
        need.stuffed = need.stuffed || is_stuffed(item);
    }
    for (std::size_t i = 0; i < assembly.items.size(); ++i)
        need.frozen = need.frozen || starts_frozen(assembly, course.roast, i);
    double last_s = 0;
    for (std::size_t p = 0; p < course.roast.places.size(); ++p) {
        const RoastPlace& place = course.roast.places[p];
        if (!place.pull_k) continue;
        need.watched.push_back(place);
        const PlaceCourse& went = course.roast.place_courses[p];
        if (!went.coldest_at || !went.pull_s || *went.pull_s < last_s) continue;
        last_s = *went.pull_s;
        need.last = LastPlace{place, *went.coldest_at};
    }
    return need;
}

Schedule schedule(const ScheduleNeed& need) {
    const Range& off = need.off_s;
    if (!(need.mass_kg > 0 && off.low > 0 && off.middle >= off.low && off.high >= off.middle))
        throw std::invalid_argument("schedule: nothing to roast, or no time to roast it in");
    return StepWriter(need).written();
}

}  // namespace evenspit::cook
