// SPDX-License-Identifier: MIT
#include "roast/roast_course.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>
#include <stdexcept>

#include "load/cook_reader.h"
#include "rig/plane_room.h"
#include "roast/item_roast.h"
#include "roast/place_course.h"
#include "units/physical_constants.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

constexpr double kitchen_k = 293.15;
/// Air in a room that somebody moves about in, m/s. Common practice.
constexpr double room_air_m_s = 0.1;
/// Steps with which a cook begins: skin warms fastest then.
constexpr std::array first_steps_s{20.0, 40.0, 60.0, 80.0, 100.0};
constexpr double shortest_step_s = 20;
/// How often the time that a turn spends at each angle is asked for.
constexpr double shares_every_s = 1800;

/// Pressure of vapour in the air outside, Pa: half of what air at 20 °C holds.
constexpr double weather_vapour_pa = 1170;
/// Air that goes through an oven's vent, kg/s: from memory.
constexpr double oven_air_kg_s = 2e-3;
constexpr double air_over_water = 28.96 / 18.02;  // molar masses

double vapour_pa(double drying_kg_s, double gas_kg_s) {
    const double water = std::max(0.0, drying_kg_s) * air_over_water;
    const double gas = std::max(gas_kg_s, oven_air_kg_s);
    return weather_vapour_pa + (standard_atmosphere_pa - weather_vapour_pa) * water / (water + gas);
}

class Roasting {
  public:
    Roasting(const Assembly& assembly, const RoastOptions& options, const TimeShares& shares,
             const RoastProgress& progress, const std::stop_token& stop)
        : assembly_(assembly), options_(options), shares_(shares), progress_(progress), stop_(stop) {
        FireSettings settings = fire_settings(assembly).value();
        settings.open_pace = options.open_pace;
        if (!burns_in_the_open(assembly.cooker)) settings.held_k += options.held_by_k;
        if (settings.preheated_k) *settings.preheated_k += options.held_by_k;
        fire_ = options.cast ? *options.cast : fire_course(assembly, settings, options.views);
        fire_.settings = settings;
        stop_if_asked(stop_);
        course_.spacing_m = options.spacing_m;
        course_.places = roast_places(assembly);
        const double start_k = assembly.cook->start_temperature_k.value_or(refrigerator_k);
        for (std::size_t i = 0; i < assembly.items.size(); ++i) {
            items_.emplace_back(assembly.items[i], i, course_.places, start_k, options);
            course_.cells += items_.back().cells();
            stop_if_asked(stop_);
        }
        cuts_s_ = options.cuts_s;
        std::sort(cuts_s_.begin(), cuts_s_.end());
    }

    RoastCourse run() {
        state_ = load_goes_in(fire_);
        record();
        for (const double step_s : first_steps_s) {
            if (!done()) go(std::min(now_s_ + step_s, last_s()));
        }
        if (now_s_ >= next_record_s_) record();
        while (!done() && now_s_ < options_.longest_s) {
            go(now_s_ + next_step_s());
            if (now_s_ >= next_record_s_ - 1e-9 && !done()) record();
        }
        if (course_.moments.back().time_s < now_s_) record();
        if (done()) course_.off_s = now_s_;
        if (done() && options_.cut_when_off) keep_cuts();
        for (std::size_t i = 0; i < items_.size(); ++i) course_.skin_heat.push_back(items_[i].skin_heat());
        plan_the_fuel();
        std::vector<std::optional<Vec3>> coldest_at;
        for (const ItemRoast& item : items_) {
            for (const std::optional<Vec3>& at : item.coldest_at()) coldest_at.push_back(at);
        }
        if (course_.off_s) rest();
        for (const ItemRoast& item : items_)
            course_.imbalance = std::max(course_.imbalance, item.imbalance());
        follow_places();
        for (std::size_t p = 0; p < coldest_at.size(); ++p)
            course_.place_courses[p].coldest_at = coldest_at[p];
        return std::move(course_);
    }

  private:
    [[nodiscard]] double last_s() const { return assembly_.cook->duration_s.value_or(options_.longest_s); }
    [[nodiscard]] bool done() const {
        if (assembly_.cook->duration_s) return now_s_ >= *assembly_.cook->duration_s - 1e-9;
        const std::vector<double>& now = last_places_k_;
        for (std::size_t p = 0; p < course_.places.size(); ++p) {
            const std::optional<double>& pull = course_.places[p].pull_k;
            if (pull && !(now[p] >= *pull)) return false;
        }
        return true;
    }

    /// Up to the next record, or to where the last place is about to be as hot as it shall be.
    [[nodiscard]] double next_step_s() const {
        double step_s = std::min(next_record_s_, last_s()) - now_s_;
        if (!assembly_.cook->duration_s) {
            double until_s = 0;
            for (std::size_t p = 0; p < course_.places.size(); ++p) {
                const std::optional<double>& pull = course_.places[p].pull_k;
                if (!pull || last_places_k_[p] >= *pull) continue;
                const double rise = warming_k_s_.empty() ? 0 : warming_k_s_[p];
                until_s =
                    rise > 0 ? std::max(until_s, (*pull - last_places_k_[p]) / rise) : options_.interval_s;
                if (!(rise > 0)) break;
            }
            step_s = std::min(step_s, std::max(until_s, shortest_step_s));
        }
        return std::max(step_s, 1.0);
    }

    [[nodiscard]] std::vector<double> skins_k() const {
        std::vector<double> skins;
        for (const ItemRoast& item : items_) skins.push_back(item.skin_k());
        return skins;
    }

    /// As fast as air passes in and out of an item's hollow, W/m2·K of its wall.
    [[nodiscard]] double hollow_w_m2k(std::size_t item, const SkinHeating& heating) const {
        for (const SkinPatch& patch : fire_.views.skin.patches) {
            if (patch.item == item && patch.in_cavity && !patch.triangles.empty())
                return heating.coefficient_w_m2_k[patch.part][std::size_t(patch.triangles.front())];
        }
        return 0;
    }

    /// What each item tells of its own places, in the order of all.
    [[nodiscard]] std::vector<double> of_places(std::vector<double> (ItemRoast::*of)() const) const {
        std::vector<double> all(course_.places.size());
        for (std::size_t i = 0; i < items_.size(); ++i) {
            const std::vector<double> own = (items_[i].*of)();
            std::size_t n = 0;
            for (std::size_t p = 0; p < course_.places.size(); ++p) {
                if (course_.places[p].item == i) all[p] = own[n++];
            }
        }
        return all;
    }

    void advance(double to_s, const std::vector<SkinHeating>& heating, double vapour) {
        const double from_s = now_s_;
        for (std::size_t i = 0; i < items_.size(); ++i) {
            items_[i].advance(to_s, heating[i], {vapour, hollow_w_m2k(i, heating[i])}, stop_);
            stop_if_asked(stop_);
        }
        now_s_ = to_s;
        const std::vector<double> before = std::move(last_places_k_);
        last_places_k_ = of_places(&ItemRoast::places_k);
        warming_k_s_.assign(last_places_k_.size(), 0.0);
        for (std::size_t p = 0; p < last_places_k_.size(); ++p)
            warming_k_s_[p] = (last_places_k_[p] - before[p]) / (to_s - from_s);
        take_cuts();
        tell_progress();
    }

    void go(double to_s) {
        ask_shares();
        const double step_s = to_s - now_s_;
        const std::vector<double> before = skins_k();
        const CookerState middle = later(fire_, state_, before, step_s / 2);
        double drying = 0;
        for (const ItemRoast& item : items_) drying += item.drying_kg_s();
        advance(to_s, heating(fire_, middle, before), vapour_pa(drying, middle.bed.gas_kg_s));
        std::vector<double> skins = skins_k();
        for (std::size_t i = 0; i < skins.size(); ++i) skins[i] = (skins[i] + before[i]) / 2;
        state_ = later(fire_, middle, skins, step_s / 2);
    }

    void ask_shares() {
        if (!shares_ || now_s_ < next_shares_s_) return;
        next_shares_s_ = now_s_ + shares_every_s;
        const std::vector<double> shares =
            shares_(load_at(assembly_, course_.moments.back()), fire_.views.angles);
        if (!shares.empty()) spend_turn(fire_, shares);
    }

    /// Off the fire, in a room.
    void rest() {
        resting_ = true;
        for (ItemRoast& item : items_) item.leave_thermometers();
        const double until_s = now_s_ + options_.rest_s;
        while (now_s_ < until_s - 1) {
            const double to_s = std::min(now_s_ + options_.interval_s, until_s);
            const std::vector<double> skins = skins_k();
            std::vector<SkinHeating> room;
            for (std::size_t i = 0; i < items_.size(); ++i) room.push_back(room_heating(i, skins[i]));
            advance(to_s, room, weather_vapour_pa);
            record();
        }
    }

    [[nodiscard]] SkinHeating room_heating(std::size_t item, double skin_k) const {
        const ConvectionSize size = convection_size(assembly_, fire_.views.skin, item);
        const double outer = convection_coefficient_w_m2_k(size, skin_k, {kitchen_k, room_air_m_s, 0});
        const double cavity = std::min(
            outer,
            cavity_coefficient_w_m2_k(hollow_of(fire_.views.skin, fire_.mean, item), skin_k, kitchen_k));
        SkinHeating room;
        room.air_k = kitchen_k;
        room.emissivity = skin_emissivity;
        for (const std::vector<std::int32_t>& patch_of : fire_.views.skin.patch_of_triangle[item]) {
            std::vector<double>& coefficient = room.coefficient_w_m2_k.emplace_back();
            for (const std::int32_t patch : patch_of)
                coefficient.push_back(fire_.views.skin.patches[std::size_t(patch)].in_cavity ? cavity
                                                                                             : outer);
            room.incident_w_m2.emplace_back(patch_of.size(), black_power_w_m2(kitchen_k));
        }
        return room;
    }

    void record() {
        RoastMoment moment;
        moment.time_s = now_s_;
        moment.resting = resting_;
        moment.shown_k = resting_ ? kitchen_k : state_.shown_k;
        const bool burns_down = state_.fire.fuel != FuelKind::gas && !is_oven(fire_.shell);
        moment.fuel_left_kg = burns_down ? state_.fire.left_kg : 0;
        moment.to_load_w = resting_ ? 0 : state_.to_load_w;
        for (const ItemRoast& item : items_) {
            moment.items.push_back(item.moment());
            if (options_.keep_heat)
                moment.heat.push_back(std::make_shared<const HeatCells>(item.heat_cells()));
        }
        last_places_k_ = of_places(&ItemRoast::places_k);
        moment.places_k = last_places_k_;
        moment.least_peaks_k = of_places(&ItemRoast::least_peaks_k);
        course_.moments.push_back(std::move(moment));
        next_record_s_ = (std::floor(now_s_ / options_.interval_s + 1e-9) + 1) * options_.interval_s;
    }

    void take_cuts() {
        while (!cuts_s_.empty() && cuts_s_.front() <= now_s_) {
            cuts_s_.erase(cuts_s_.begin());
            keep_cuts();
        }
    }
    void keep_cuts() {
        for (const ItemRoast& item : items_) {
            course_.cuts.push_back(item.cut(true));
            course_.cuts.push_back(item.cut(false));
        }
    }

    void tell_progress() const {
        if (!progress_) return;
        if (assembly_.cook->duration_s) {
            progress_(now_s_, *assembly_.cook->duration_s + options_.rest_s);
            return;
        }
        double share = 1;
        for (std::size_t p = 0; p < course_.places.size(); ++p) {
            const std::optional<double>& pull = course_.places[p].pull_k;
            if (!pull) continue;
            const double from_k = course_.moments.front().places_k[p];
            share = std::min(share, (last_places_k_[p] - from_k) / (*pull - from_k));
        }
        constexpr double least_share = 0.05;
        progress_(now_s_, now_s_ / std::clamp(share, least_share, 1.0) + options_.rest_s);
    }

    void plan_the_fuel() {
        if (!options_.fuel || is_oven(fire_.shell) || !(now_s_ > 0)) return;
        FuelNeed need;
        need.fuel = fire_.settings.fuel;
        need.held_k = fire_.settings.held_k;
        need.preheated_k = fire_.settings.preheated_k.value_or(need.held_k);
        need.cook_s = now_s_;
        for (const ItemRoast& item : items_) need.to_load_j += std::max(0.0, item.taken_j());
        need.load_from_m = assembly_.rod.length_m;
        need.load_to_m = 0;
        for (const SkinPatch& patch : fire_.views.skin.patches) {
            need.load_from_m = std::min(need.load_from_m, patch.centre.x());
            need.load_to_m = std::max(need.load_to_m, patch.centre.x());
        }
        need.given_kg = fire_.settings.laid_kg;
        if (state_.heat.released_j > 0) need.taken_share = state_.heat.to_load_j / state_.heat.released_j;
        if (need.to_load_j > 0) course_.fuel = plan_fuel(fire_.shell, need);
    }

    void follow_places() {
        std::vector<double> times;
        for (const RoastMoment& moment : course_.moments) times.push_back(moment.time_s);
        for (std::size_t p = 0; p < course_.places.size(); ++p) {
            std::vector<double> coldest, peaks;
            for (const RoastMoment& moment : course_.moments) {
                coldest.push_back(moment.places_k[p]);
                peaks.push_back(moment.least_peaks_k[p]);
            }
            const body::Body& body = assembly_.items[course_.places[p].item].body->body;
            course_.place_courses.push_back(
                place_course(course_.places[p], salmonella_in(body), times, coldest, peaks));
        }
    }

    const Assembly& assembly_;
    RoastOptions options_;
    const TimeShares& shares_;
    const RoastProgress& progress_;
    std::stop_token stop_;
    FireCourse fire_{};
    CookerState state_;
    std::vector<ItemRoast> items_;
    RoastCourse course_;
    std::vector<double> cuts_s_;
    std::vector<double> last_places_k_, warming_k_s_;
    double now_s_ = 0, next_record_s_ = 0, next_shares_s_ = 0;
    bool resting_ = false;
};

}  // namespace

RoastOptions coarse_roast() {
    RoastOptions options;
    options.spacing_m = 0.008;
    options.interval_s = 600;
    options.views = {.patch_m = 0.04, .rays = 32, .angles = 12};
    return options;
}

const RoastMoment& off_moment(const RoastCourse& course) {
    const auto last = std::find_if(course.moments.rbegin(), course.moments.rend(),
                                   [](const RoastMoment& moment) { return !moment.resting; });
    return last == course.moments.rend() ? course.moments.front() : *last;
}

bool can_roast(const Assembly& assembly) {
    return !assembly.items.empty() && fire_settings(assembly).has_value();
}

RoastCourse roast_course(const Assembly& assembly, const RoastOptions& options, const TimeShares& shares,
                         const RoastProgress& progress, const std::stop_token& stop) {
    if (!can_roast(assembly))
        throw std::invalid_argument("a cook needs items and the temperature of its cooker");
    return Roasting(assembly, options, shares, progress, stop).run();
}

Assembly load_at(const Assembly& assembly, const RoastMoment& moment) {
    Assembly load = assembly;
    for (std::size_t i = 0; i < load.items.size(); ++i) load.items[i].matter = moment.items[i].matter;
    return load;
}

}  // namespace evenspit
