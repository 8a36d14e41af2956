// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "load/thing.h"
#include "report/caution_words.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/food_words.h"
#include "report/page.h"
#include "report/reader_units.h"
#include "report/roast_report.h"
#include "report/roast_words.h"
#include "report/schedule_words.h"
#include "report/split_table.h"
#include "report/subject_words.h"
#include "rig/plane_room.h"
#include "units/dial.h"
#include "units/fahrenheit.h"
#include "units/listed.h"

namespace evenspit {
namespace {

/// What is bought.
std::string_view laid_fuel(FuelKind fuel) {
    return fuel == FuelKind::lump_charcoal ? "lump charcoal" : fuel_word(fuel);
}

std::string_view coal_place_words(CoalPlace coals) {
    switch (coals) {
        case CoalPlace::as_drawn:
            return "where the load file has the fire";
        case CoalPlace::under:
            return "under the load";
        case CoalPlace::back:
            return "at the back, along the load";
        case CoalPlace::front:
            return "in front, along the load";
        case CoalPlace::both_sides:
            break;
    }
    return "along both sides of the load";
}

class RoastText {
  public:
    RoastText(const Assembly& assembly, const cook::CookCourse& course,
              const std::optional<cook::Schedule>& schedule, const TextOptions& options)
        : assembly_(assembly),
          course_(course),
          roast_(course.roast),
          schedule_(schedule),
          system_(options.units),
          units_(options.units),
          page_(options),
          off_s_(off_moment(course.roast).time_s) {}

    std::string written() {
        answer();
        findings("To fix, worst first", true);
        if_pushed_in();
        findings("Good to know", false);
        timeline();
        temperatures();
        turning();
        losses();
        evenness();
        fuel();
        information();
        put_cautions(page_, assembly_, system_);
        return page_.text();
    }

  private:
    [[nodiscard]] bool several() const { return assembly_.items.size() > 1; }
    [[nodiscard]] std::string name_of(std::size_t item) const {
        return printable(item_name(assembly_, item));
    }

    void answer() {
        const Level verdict = course_.verdict;
        const Ink ink = ink_of(verdict);
        page_.marked(level_mark(verdict), ink, done_text(assembly_, course_), 0);
        if (schedule_ && schedule_->serve_s) page_.paragraph(ready_text(*schedule_));
        page_.paragraph(verdict_words(verdict, course_.mounted));
        const std::string title = printable(assembly_.title), file = printable(assembly_.file);
        page_.paragraph(title.empty() || file.empty() ? title + file : fmt::format("{} ({})", title, file));
    }

    /// Findings count without it.
    void if_pushed_in() {
        double left = 0, pushed = 0;
        for (const cook::Along& along : course_.along) {
            left = std::max({left, along.torque_use.value_or(0), along.hold_use.value_or(0)});
            pushed = std::max(
                {pushed, along.torque_use_tightened.value_or(0), along.hold_use_tightened.value_or(0)});
        }
        if (left < limits::grip_care || pushed >= left || pushed >= limits::grip_stop) return;
        page_.paragraph(
            fmt::format("That is if nobody pushes the forks in. Pushed in as told below, they use at "
                        "most {} of what they hold.",
                        Units::share(pushed, {limits::grip_care, limits::grip_stop})));
    }

    void findings(std::string_view heading, bool to_fix) {
        const auto wanted = [to_fix](const Finding& f) { return (f.level != Level::ready) == to_fix; };
        if (std::none_of(course_.findings.begin(), course_.findings.end(), wanted)) return;
        page_.heading(heading);
        for (const Finding& finding : course_.findings) {
            if (!wanted(finding)) continue;
            const Ink ink = !to_fix ? Ink::plain : finding.level == Level::stop ? Ink::bad : Ink::caution;
            page_.marked(to_fix ? level_mark(finding.level) : "-", ink,
                         finding_text(finding, assembly_, system_));
        }
    }

    void timeline() {
        if (!schedule_) return;
        page_.heading(schedule_->by_clock ? "When to do what"
                                          : "When to do what, counted from when it goes in");
        for (const ToldStep& step : schedule_words(*schedule_, assembly_, system_))
            figure(step.when, step.what);
    }

    /// A label that is too long for its column, with a name in it, stands on lines of its own.
    void figure(const std::string& label, std::string_view words) {
        const bool beside = display_width(label) < Page::label_width;
        if (!beside) page_.paragraph(label, Page::margin);
        page_.figure(beside ? label : "", words);
    }

    /// Round times, about a dozen, and when it comes off.
    [[nodiscard]] std::vector<double> told_times_s() const {
        constexpr std::array steps_min{5, 10, 15, 20, 30, 60, 90, 120};
        constexpr double most = 11;
        double step_s = 0;
        for (const int step : steps_min) {
            step_s = 60.0 * step;
            if (off_s_ / step_s <= most) break;
        }
        std::vector<double> times;
        // One just before the end would say the same twice.
        for (double t = 0; t < off_s_ - step_s / 4; t += step_s) times.push_back(t);
        times.push_back(off_s_);
        return times;
    }

    void temperatures() {
        page_.heading("Temperatures, at the coldest point of each place");
        const bool open = burns_in_the_open(assembly_.cooker);
        std::vector<SplitColumn> columns{{{"after", true}, {}}, {{open ? "fire" : "cooker", true}, {}}};
        const std::vector<std::size_t> places = told_places(assembly_, roast_);
        for (const std::size_t p : places)
            columns.push_back({{place_label(assembly_, roast_.places[p]), true}, {}});
        const auto row = [&](const RoastMoment& moment) {
            columns[0].cells.push_back(Units::minutes(moment.time_s));
            columns[1].cells.push_back(moment.resting ? "rest"
                                       : open         ? "burns"
                                                      : units_.temperature(moment.shown_k));
            for (std::size_t n = 0; n < places.size(); ++n)
                columns[2 + n].cells.push_back(cell(moment.places_k[places[n]], roast_.places[places[n]]));
        };
        double told_s = -1;
        for (const double time_s : told_times_s()) {
            const RoastMoment& moment = time_s < off_s_ ? moment_near(roast_, time_s) : off_moment(roast_);
            if (moment.time_s <= told_s) continue;
            row(moment);
            told_s = moment.time_s;
        }
        if (roast_.moments.back().resting) row(roast_.moments.back());
        put_split_table(page_, columns);
        for (const std::size_t p : places) {
            const RoastPlace& place = roast_.places[p];
            const PlaceCourse& went = roast_.place_courses[p];
            if (!place.pull_k && !place.safe_k) continue;
            if (std::isfinite(went.peak_k))
                figure(place_label(assembly_, place), place_words_of(place, went));
        }
    }

    [[nodiscard]] std::string place_words_of(const RoastPlace& place, const PlaceCourse& went) const {
        std::string words;
        if (place.pull_k) {
            words = went.pull_s ? fmt::format("{} after {}, ", units_.temperature(*place.pull_k),
                                              Units::minutes(*went.pull_s))
                                : fmt::format("never {}, ", units_.temperature(*place.pull_k));
        }
        words +=
            fmt::format("at most {} after {}", units_.temperature(went.peak_k), Units::minutes(went.peak_s));
        if (place.safe_k && place.safe_rest_s > 0) {
            words += fmt::format("; safe at {} and {} of rest", units_.temperature(*place.safe_k),
                                 Units::minutes(place.safe_rest_s));
        } else if (place.safe_k) {
            words += fmt::format("; safe at {}", units_.temperature(*place.safe_k));
        }
        if (went.coldest_at) {
            words += fmt::format("; coldest {}",
                                 inner_spot_text(assembly_.items[place.item], *went.coldest_at, system_));
        }
        return words;
    }

    /// What is not yet reached must not be told as if it were.
    [[nodiscard]] std::string cell(double kelvin, const RoastPlace& place) const {
        if (!std::isfinite(kelvin)) return std::string(no_figure);
        return units_.temperature(kelvin, {place.pull_k.value_or(0), place.safe_k.value_or(0)});
    }

    [[nodiscard]] const cook::Along& along_near(double time_s) const {
        return *std::min_element(course_.along.begin(), course_.along.end(),
                                 [time_s](const cook::Along& a, const cook::Along& b) {
                                     return std::abs(a.time_s - time_s) < std::abs(b.time_s - time_s);
                                 });
    }

    void turning() {
        if (course_.along.empty()) return;
        page_.heading("Weight, motor, grip and gap");
        std::vector<std::string> heads{"after", "weight", "torque", "motor", "grip"};
        if (tightened()) heads.emplace_back("tightened");
        heads.insert(heads.end(), {"sag", "gap"});
        std::vector<SplitColumn> columns;
        columns.reserve(heads.size());
        for (const std::string& head : heads) columns.push_back({{head, true}, {}});
        double told_s = -1;
        for (const double time_s : told_times_s()) {
            const cook::Along& along = along_near(time_s);
            if (along.time_s <= told_s) continue;
            told_s = along.time_s;
            std::vector<std::string> cells{Units::minutes(along.time_s), units_.mass(along.mass_kg),
                                           units_.torque(along.gravity_torque_n_m), motor(along),
                                           grip(grip_use(along))};
            if (tightened()) cells.push_back(grip(grip_use_tightened(along)));
            cells.push_back(units_.slack(along.sag_m, {0, limits::sag_care_m}));
            cells.push_back(units_.slack(along.gap_m, {0, limits::gap_stop_m}));
            for (std::size_t c = 0; c < columns.size(); ++c) columns[c].cells.push_back(std::move(cells[c]));
        }
        put_split_table(page_, columns);
        const cook::Along& worst = course_.along[std::min(course_.worst, course_.along.size() - 1)];
        page_.figure("least left",
                     fmt::format("after {}: {} of the motor used, {} of the grip",
                                 Units::minutes(worst.time_s), motor(worst), grip(grip_use(worst))));
        left_alone();
    }

    [[nodiscard]] bool tightened() const { return !course_.retighten.empty(); }
    [[nodiscard]] static std::string motor(const cook::Along& along) {
        return along.stalls ? "stalls"
                            : Units::share(along.motor_use, {limits::motor_care, limits::motor_stop});
    }
    [[nodiscard]] static std::string grip(const std::optional<double>& use) {
        return Units::share(use, {limits::grip_care, limits::grip_stop});
    }

    /// What becomes of forks that nobody pushes in.
    void left_alone() {
        const auto slips = [](const std::optional<double>& use) { return use && *use >= limits::grip_stop; };
        const auto first = std::find_if(course_.along.begin(), course_.along.end(),
                                        [&](const cook::Along& a) { return slips(grip_use(a)); });
        if (first == course_.along.end()) return;
        std::string words = first->time_s > 0
                                ? fmt::format("the forks slip after about {}", Units::minutes(first->time_s))
                                : std::string("the forks slip from the start");
        if (tightened())
            words += fmt::format("; tightened in time they are used to {} at most", worst_tightened());
        page_.figure("left alone", words);
    }
    [[nodiscard]] std::string worst_tightened() const {
        std::optional<double> worst;
        for (const cook::Along& along : course_.along) {
            if (const auto use = grip_use_tightened(along)) worst = std::max(worst.value_or(0), *use);
        }
        return grip(worst);
    }

    void losses() {
        const std::vector<ItemMoment>&raw = roast_.moments.front().items, &done = off_moment(roast_).items;
        page_.heading("What it loses till it comes off");
        Table table({{"item", false, true},
                     {"goes in", true},
                     {"comes off", true},
                     {"lost", true},
                     {"juice", true},
                     {"dried", true},
                     {"fat", true}});
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            const double before = raw[i].matter.mass_kg, after = done[i].matter.mass_kg;
            table.add_row({name_of(i), units_.mass(before), units_.mass(after),
                           Units::share((before - after) / before), units_.mass(done[i].juice_kg),
                           units_.mass(done[i].dried_kg), units_.mass(done[i].fat_kg)});
        }
        page_.table(table);
        page_.paragraph(
            "Juice is what the flesh lets go. Some of it drips and some dries on the skin, so juice and "
            "dried "
            "do not add up.",
            Page::margin);
    }

    void evenness() {
        if (course_.evenness.size() != assembly_.items.size()) return;
        page_.heading("Heat over the skin");
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            const cook::Evenness& even = course_.evenness[i];
            if (even.round_j_m2.empty()) continue;
            figure(several() ? name_of(i) : "even", (several() ? "even by " : "") + evenness_text(even));
            page_.figure(several() ? "" : "hottest", hot_spot_text(assembly_.items[i], even, system_));
            if (!several()) strips(even);
        }
        page_.paragraph("100 % even is the same heat everywhere. Hours are seen from the rod's point.",
                        Page::margin);
    }

    /// Where round the rod and where along it heat is least and most.
    void strips(const cook::Evenness& even) {
        const auto told = [&](const std::vector<double>& heat, const auto& place) {
            const auto [least, most] = std::minmax_element(heat.begin(), heat.end());
            double mean = 0;
            for (const double j_m2 : heat) mean += j_m2 / double(heat.size());
            return fmt::format("least at {} ({} of the mean), most at {} ({})", place(least - heat.begin()),
                               Units::share(*least / mean), place(most - heat.begin()),
                               Units::share(*most / mean));
        };
        const auto hour = [&](std::ptrdiff_t n) {
            return dial_text((double(n) + 0.5) / double(even.round_j_m2.size()) * 2 * std::numbers::pi);
        };
        const auto station = [&](std::ptrdiff_t n) {
            const double share = (double(n) + 0.5) / double(even.along_j_m2.size());
            return units_.length(even.along_from_m + share * (even.along_to_m - even.along_from_m));
        };
        page_.figure("round the rod", told(even.round_j_m2, hour));
        if (!even.along_j_m2.empty()) page_.figure("along the rod", told(even.along_j_m2, station));
    }

    void fuel() {
        if (!roast_.fuel || !assembly_.cook) return;
        const FuelPlan& plan = *roast_.fuel;
        const CookFire& fire = assembly_.cook->fire;
        page_.heading("Fire");
        if (fire.fuel == FuelKind::gas) {
            page_.figure("burns", units_.rough_mass(plan.burnt_kg) + " of gas");
        } else {
            page_.figure("lay", fmt::format("{} of {}; {} of it is burnt when the load comes off",
                                            units_.rough_mass(plan.laid_kg), laid_fuel(fire.fuel),
                                            units_.rough_mass(plan.burnt_kg)));
            page_.figure("light it", Units::minutes(plan.lit_before_s) + " before the load goes in");
            page_.figure("bank it", bank_words(plan, fire.coals));
        }
        if (plan.need_w > 0) {
            page_.figure("heat goes",
                         fmt::format("{} in the mean: {}", units_.of(plan.need_w, Dimension::power),
                                     ways_of_heat(plan)));
        }
        if (plan.least_w > 0 && fire.fuel != FuelKind::gas) {
            page_.paragraph(
                fmt::format("Air that comes in where the rod goes through keeps {} burning with all "
                            "vents shut, so do not lay more: a large fire cannot be choked.",
                            units_.of(plan.least_w, Dimension::power)),
                Page::margin);
        }
    }

    [[nodiscard]] static std::string ways_of_heat(const FuelPlan& plan) {
        constexpr double worth_telling = 0.015;
        const double told_w = plan.to_load_w + plan.through_wall_w + plan.with_gas_w + plan.by_openings_w;
        std::vector<std::string> ways;
        for (const auto& [w, where] : {std::pair{plan.to_load_w, "into the load"},
                                       {plan.through_wall_w, "through the walls"},
                                       {plan.with_gas_w, "off with the smoke"},
                                       {plan.by_openings_w, "out of openings"},
                                       {plan.need_w - told_w, "into the cooker itself"}}) {
            if (w / plan.need_w >= worth_telling) ways.push_back(Units::share(w / plan.need_w) + " " + where);
        }
        return listed(ways, "and");
    }

    [[nodiscard]] std::string bank_words(const FuelPlan& plan, CoalPlace coals) const {
        return fmt::format("{}, from {} to {} along the rod{}", coal_place_words(coals),
                           units_.rough_length(plan.bank_from_m), units_.rough_length(plan.bank_to_m),
                           plan.enough_bed
                               ? fmt::format(" and {} wide", units_.rough_length(plan.bank_width_m))
                               : ", as wide as the bed is");
    }

    void information() {
        page_.heading("For information");
        for (std::size_t p = 0; p < roast_.places.size(); ++p) {
            const RoastPlace& place = roast_.places[p];
            if (place.kind == PlaceKind::core) {
                figure(several() ? name_of(place.item) : "Salmonella",
                       lethality_text(roast_.place_courses[p].salmonella_logs));
            }
        }
        constexpr double nothing_to_speak_of = 1e-4;
        const std::string differ = roast_.imbalance < nothing_to_speak_of
                                       ? std::string("less than 0.01 %")
                                       : fmt::format("{:.2g} %", 100 * roast_.imbalance);
        page_.figure("computed", fmt::format("on {} cells of {}; heat in and out differ by {}", roast_.cells,
                                             units_.slack(roast_.spacing_m), differ));
    }

    const Assembly& assembly_;
    const cook::CookCourse& course_;
    const RoastCourse& roast_;
    const std::optional<cook::Schedule>& schedule_;
    UnitSystem system_;
    Units units_;
    Page page_;
    double off_s_;
};

}  // namespace

std::string roast_text(const Assembly& assembly, const cook::CookCourse& course,
                       const std::optional<cook::Schedule>& schedule, const TextOptions& options) {
    return RoastText(assembly, course, schedule, options).written();
}

}  // namespace evenspit
