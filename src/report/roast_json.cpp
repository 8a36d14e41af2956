// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "report/finding_words.h"
#include "report/json_parts.h"
#include "report/roast_report.h"
#include "report/roast_words.h"
#include "report/schedule_words.h"

namespace evenspit {
namespace {

// A list with a hole in it is left out whole: its readers count on its length.
void put_list(Json& object, std::string_view key, const std::vector<double>& values) {
    if (values.empty() ||
        !std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); }))
        return;
    Json list = Json::array();
    for (const double value : values) list.push_back(value + 0.0);
    object[std::string(key)] = std::move(list);
}

std::string_view step_key(cook::StepKind kind) {
    switch (kind) {
        case cook::StepKind::thaw_in_refrigerator:
            return "thaw-in-refrigerator";
        case cook::StepKind::thaw_in_cold_water:
            return "thaw-in-cold-water";
        case cook::StepKind::prepare:
            return "prepare";
        case cook::StepKind::marinate:
            return "marinate";
        case cook::StepKind::truss:
            return "truss";
        case cook::StepKind::spit:
            return "spit";
        case cook::StepKind::light_fire:
            return "light-fire";
        case cook::StepKind::preheat:
            return "preheat";
        case cook::StepKind::load_on:
            return "load-on";
        case cook::StepKind::check_motor:
            return "check-motor";
        case cook::StepKind::baste:
            return "baste";
        case cook::StepKind::retighten:
            return "retighten";
        case cook::StepKind::start_checking:
            return "start-checking";
        case cook::StepKind::take_off:
            return "take-off";
        case cook::StepKind::rest:
            return "rest";
        case cook::StepKind::carve:
            return "carve";
    }
    return "";
}

Json range_json(const cook::Range& range, double from_s = 0) {
    Json json;
    put(json, "low", range.low - from_s);
    put(json, "middle", range.middle - from_s);
    put(json, "high", range.high - from_s);
    json["open"] = range.open;
    return json;
}

Json fuel_json(const FuelPlan& plan) {
    Json json;
    put(json, "laid_kg", plan.laid_kg);
    put(json, "burnt_kg", plan.burnt_kg);
    put(json, "released_j", plan.released_j);
    put(json, "lit_before_s", plan.lit_before_s);
    put(json, "preheat_s", plan.preheat_s);
    put(json, "bank_from_m", plan.bank_from_m);
    put(json, "bank_to_m", plan.bank_to_m);
    put(json, "bank_width_m", plan.bank_width_m);
    put(json, "need_w", plan.need_w);
    put(json, "to_load_w", plan.to_load_w);
    put(json, "through_wall_w", plan.through_wall_w);
    put(json, "with_gas_w", plan.with_gas_w);
    put(json, "by_openings_w", plan.by_openings_w);
    put(json, "least_w", plan.least_w);
    json["enough_bed"] = plan.enough_bed;
    put(json, "too_much_kg", plan.too_much_kg);
    put(json, "cannot_hold_by_k", plan.cannot_hold_by_k);
    return json;
}

// A stop of the motor for several forks is told once for each.
// Seconds after the load goes in, whichever way the schedule counts.
void put_schedule(Json& json, const cook::Schedule& schedule, const Assembly& assembly) {
    const double on_s = schedule.on_s;
    json["schedule"] = Json::array();
    const std::vector<ToldStep> told = schedule_words(schedule, assembly, UnitSystem::metric);
    for (std::size_t n = 0; n < schedule.steps.size(); ++n) {
        const cook::Step& step = schedule.steps[n];
        const auto put_step = [&](const cook::Retighten* push) {
            Json entry;
            entry["kind"] = step_key(step.kind);
            put(entry, "from_s", step.from_s - on_s);
            put(entry, "to_s", step.to_s - on_s);
            if (step.every_s > 0) put(entry, "every_s", step.every_s);
            if (push) {
                put_fork(entry, assembly.forks, push->fork);
                put(entry, "push_m", push->push_m);
            }
            entry["what"] = told[n].what;
            json["schedule"].push_back(std::move(entry));
        };
        if (step.pushes.empty()) put_step(nullptr);
        for (const cook::Retighten& push : step.pushes) put_step(&push);
    }
    json["ready_s"] = range_json(schedule.ready_s, on_s);
    if (schedule.by_clock) put(json, "goes_in_at_s", on_s);
    put(json, "serve_at_s", schedule.serve_s);
}

class RoastJson {
  public:
    RoastJson(const Assembly& assembly, const cook::CookCourse& course)
        : assembly_(assembly), course_(course), roast_(course.roast) {
        for (const cook::Along& along : course.along) cooking_.push_back(&moment_near(roast_, along.time_s));
        for (const RoastMoment& moment : roast_.moments) {
            if (moment.resting) resting_.push_back(&moment);
        }
    }

    [[nodiscard]] Json written() const {
        Json json;
        put_along(json);
        put(json, "done_s", roast_.off_s);
        if (course_.off_s) json["off_s"] = range_json(*course_.off_s);
        put_places(json);
        put_items(json);
        put_retightening(json);
        put_evenness(json);
        put_rest(json);
        if (roast_.fuel) json["fuel"] = fuel_json(*roast_.fuel);
        put(json, "energy_imbalance", roast_.imbalance);
        put(json, "spacing_m", roast_.spacing_m);
        json["cells"] = roast_.cells;
        return json;
    }

  private:
    using Moments = std::vector<const RoastMoment*>;
    using OfMoment = std::function<double(const RoastMoment&)>;
    using OfAlong = std::function<double(const cook::Along&)>;

    static void put_over(Json& json, std::string_view key, const Moments& moments, const OfMoment& of) {
        std::vector<double> values;
        for (const RoastMoment* moment : moments) values.push_back(of(*moment));
        put_list(json, key, values);
    }
    void put_of_along(Json& json, std::string_view key, const OfAlong& of) const {
        std::vector<double> values;
        for (const cook::Along& along : course_.along) values.push_back(of(along));
        put_list(json, key, values);
    }
    static double or_nan(const std::optional<double>& value) { return value.value_or(std::nan("")); }

    void put_along(Json& json) const {
        put_of_along(json, "times_s", [](const cook::Along& a) { return a.time_s; });
        put_of_along(json, "mass_kg", [](const cook::Along& a) { return a.mass_kg; });
        Json unbalance = Json::array();
        for (const cook::Along& a : course_.along) {
            if (a.unbalance_kg_m.allFinite())
                unbalance.push_back({a.unbalance_kg_m.x() + 0.0, a.unbalance_kg_m.y() + 0.0});
        }
        if (!unbalance.empty() && unbalance.size() == course_.along.size())
            json["unbalance_kg_m"] = std::move(unbalance);
        put_of_along(json, "gravity_torque_peak_n_m",
                     [](const cook::Along& a) { return a.gravity_torque_n_m; });
        put_of_along(json, "motor_use", [](const cook::Along& a) { return a.motor_use; });
        put_of_along(json, "irregularity", [](const cook::Along& a) { return or_nan(a.irregularity); });
        put_of_along(json, "sag_m", [](const cook::Along& a) { return a.sag_m; });
        put_of_along(json, "gap_m", [](const cook::Along& a) { return or_nan(a.gap_m); });
        put_of_along(json, "grip_torque_use", [](const cook::Along& a) { return or_nan(a.torque_use); });
        put_of_along(json, "grip_hold_use", [](const cook::Along& a) { return or_nan(a.hold_use); });
        put_of_along(json, "grip_torque_use_tightened",
                     [](const cook::Along& a) { return or_nan(a.torque_use_tightened); });
        put_of_along(json, "grip_hold_use_tightened",
                     [](const cook::Along& a) { return or_nan(a.hold_use_tightened); });
        put_over(json, "cooker_k", cooking_, [](const RoastMoment& m) { return m.shown_k; });
        put_over(json, "fuel_left_kg", cooking_, [](const RoastMoment& m) { return m.fuel_left_kg; });
        put_over(json, "to_load_w", cooking_, [](const RoastMoment& m) { return m.to_load_w; });
        if (course_.worst < course_.along.size()) put(json, "worst_s", course_.along[course_.worst].time_s);
    }

    void put_places(Json& json) const {
        json["probes"] = Json::array();
        json["places"] = Json::array();
        for (std::size_t p = 0; p < roast_.places.size(); ++p) {
            const RoastPlace& place = roast_.places[p];
            const PlaceCourse& went = roast_.place_courses[p];
            const bool probe = place.kind == PlaceKind::probe;
            Json entry;
            entry["item"] = assembly_.items[place.item].name;
            entry["name"] = place.name;
            entry["kind"] = probe ? std::string_view("probe") : place_name(place.kind);
            put(entry, "pull_k", place.pull_k);
            put(entry, "safe_k", place.safe_k);
            if (place.safe_rest_s > 0) put(entry, "safe_rest_s", place.safe_rest_s);
            put(entry, "pull_s", went.pull_s);
            put(entry, "safe_s", went.safe_s);
            put(entry, "peak_k", went.peak_k);
            put(entry, "peak_s", went.peak_s);
            put_over(entry, "temperature_k", cooking_, [p](const RoastMoment& m) { return m.places_k[p]; });
            put_over(entry, "rest_temperature_k", resting_,
                     [p](const RoastMoment& m) { return m.places_k[p]; });
            put(entry, "salmonella_logs", went.salmonella_logs);
            put(entry, "lukewarm_s", went.lukewarm_s);
            put(entry, "come_up_s", went.come_up_s);
            if (went.coldest_at)
                entry["coldest_m"] = {went.coldest_at->x(), went.coldest_at->y(), went.coldest_at->z()};
            if (probe) {
                Json told;
                told["name"] = place.name;
                told["item"] = assembly_.items[place.item].name;
                if (entry.contains("temperature_k")) told["temperature_k"] = entry["temperature_k"];
                json["probes"].push_back(std::move(told));
            }
            json["places"].push_back(std::move(entry));
        }
    }

    void put_items(Json& json) const {
        json["items"] = Json::array();
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            const ItemMoment& off = off_moment(roast_).items[i];
            const double raw_kg = roast_.moments.front().items[i].matter.mass_kg;
            Json entry;
            entry["name"] = assembly_.items[i].name;
            put_over(entry, "mass_kg", cooking_,
                     [i](const RoastMoment& m) { return m.items[i].matter.mass_kg; });
            put_over(entry, "skin_k", cooking_, [i](const RoastMoment& m) { return m.items[i].skin_k; });
            put_over(entry, "mean_k", cooking_, [i](const RoastMoment& m) { return m.items[i].mean_k; });
            put_over(entry, "coldest_k", cooking_,
                     [i](const RoastMoment& m) { return m.items[i].coldest_k; });
            put_over(entry, "bearing_strength_pa", cooking_,
                     [i](const RoastMoment& m) { return m.items[i].matter.bearing_strength_pa; });
            put(entry, "lost_share", (raw_kg - off.matter.mass_kg) / raw_kg);
            put(entry, "juice_kg", off.juice_kg);
            put(entry, "dried_kg", off.dried_kg);
            put(entry, "fat_kg", off.fat_kg);
            put(entry, "ice_share_at_start", roast_.moments.front().items[i].ice_share);
            json["items"].push_back(std::move(entry));
        }
    }

    void put_retightening(Json& json) const {
        json["retighten_s"] = Json::array();
        json["retighten"] = Json::array();
        for (const cook::Retighten& retighten : course_.retighten) {
            json["retighten_s"].push_back(retighten.at_s);
            Json entry;
            put(entry, "at_s", retighten.at_s);
            put_fork(entry, assembly_.forks, retighten.fork);
            put(entry, "push_m", retighten.push_m);
            json["retighten"].push_back(std::move(entry));
        }
    }

    void put_evenness(Json& json) const {
        if (course_.evenness.empty()) return;
        const auto by_index = [](const cook::Evenness& a, const cook::Evenness& b) {
            return a.index < b.index;
        };
        put(json, "exposure_evenness",
            std::min_element(course_.evenness.begin(), course_.evenness.end(), by_index)->index);
        json["evenness"] = Json::array();
        for (const cook::Evenness& even : course_.evenness) {
            Json entry;
            put(entry, "index", even.index);
            put(entry, "even_turn", even.index_even_turn);
            put_list(entry, "round_j_m2", even.round_j_m2);
            put_list(entry, "along_j_m2", even.along_j_m2);
            put_list(entry, "along_m", {even.along_from_m, even.along_to_m});
            put(entry, "hottest_over_mean", even.hottest_over_mean);
            put_list(entry, "hottest_m", {even.hottest.x(), even.hottest.y(), even.hottest.z()});
            json["evenness"].push_back(std::move(entry));
        }
    }

    void put_rest(Json& json) const {
        if (resting_.empty()) return;
        Json rest;
        put_over(rest, "times_s", resting_, [](const RoastMoment& m) { return m.time_s; });
        put_over(rest, "mass_kg", resting_, [](const RoastMoment& m) {
            double kg = 0;
            for (const ItemMoment& item : m.items) kg += item.matter.mass_kg;
            return kg;
        });
        json["rest"] = std::move(rest);
    }

    const Assembly& assembly_;
    const cook::CookCourse& course_;
    const RoastCourse& roast_;
    Moments cooking_, resting_;
};

}  // namespace

std::string roast_json(const Assembly& assembly, const cook::CookCourse& course,
                       const std::optional<cook::Schedule>& schedule) {
    Json json;
    json["tool"] = tool_json();
    json["load"] = load_json(assembly);
    json["verdict"] = level_name(course.verdict);
    if (course.mounted) put_mounted(json, *course.mounted, assembly);
    json["findings"] = Json::array();
    for (const Finding& finding : course.findings)
        json["findings"].push_back(finding_json(finding, assembly));
    json["roast"] = RoastJson(assembly, course).written();
    if (schedule) put_schedule(json["roast"], *schedule, assembly);
    return json_text(json);
}

}  // namespace evenspit
