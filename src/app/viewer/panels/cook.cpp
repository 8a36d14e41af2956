// SPDX-License-Identifier: MIT
// The cook in time: a slider through it, what the load is at each moment, and its curves.
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "app/viewer/panels/picture.h"
#include "report/chart.h"
#include "report/food_words.h"
#include "report/reader_units.h"
#include "report/roast_charts.h"
#include "report/roast_words.h"
#include "units/listed.h"

namespace evenspit::viewer {
namespace {

/// Where motor and grip have least left is marked if they lose so much to it, a share of what they can do.
constexpr double worth_telling = 0.01;

/// How far a cook is that runs or is about to, with a button that stops it; whether there is one.
bool draw_cooking(Ui& ui, Desk& desk) {
    if (!desk.cooking().running() && !desk.cook_is_due()) return false;
    const auto [share, what] = desk.cooking().progress();
    ui.say_small(what.empty() ? std::string("roasting it coarsely …") : fmt::format("{} …", what));
    draw_progress(ui, share);
    if (ui.button("Stop it")) desk.wish(CancelCook{});
    return true;
}

class CookPanel {
  public:
    CookPanel(Ui& ui, Desk& desk)
        : ui_(ui),
          desk_(desk),
          cook_(*desk.cooking().found()),
          load_(desk.session().assembly()),
          units_(desk.settings().units),
          stale_(desk.cook_is_stale()) {}

    void draw() {
        ui_.say(done_text(load_, cook_.course), stale_ ? Ink::faint : Ink::strong);
        ui_.say_small(thermometer_text(), Ink::care);
        if (stale_) {
            of_how_it_was();
        } else {
            time();
            colours();
            state();
        }
        const float height = ui_.px(210);
        chart(temperature_chart(load_, cook_.course, units_.system()), "Temperatures chart", height);
        chart(use_chart(load_, cook_.course), "Motor and grip chart", height);
    }

  private:
    /// What is told while the load has moved on.
    void of_how_it_was() {
        ui_.say_small("Things were moved since: this cook is of the load as it was.", Ink::care);
        if (!draw_cooking(ui_, desk_) && ui_.button("Cook it again")) desk_.wish(SeekCook{});
    }
    [[nodiscard]] double end_s() const { return std::max(cook_.moments.back().time_s, 1.0); }
    [[nodiscard]] double now_s() const { return desk_.moment() != nullptr ? desk_.moment()->time_s : 0; }
    /// Where motor and grip have least left, if that is any worse than as it goes in.
    [[nodiscard]] std::optional<std::size_t> worst() const {
        const cook::Along& least = cook_.course.along[cook_.course.worst];
        const cook::Along& first = cook_.course.along.front();
        const bool worse = least.motor_use > first.motor_use + worth_telling ||
                           grip_use(least).value_or(0) > grip_use(first).value_or(0) + worth_telling;
        return worse ? std::optional(cook_.worst) : std::nullopt;
    }

    void time() {
        std::vector<SliderMark> marks;
        for (const cook::Retighten& push : cook_.course.retighten)
            marks.push_back({push.at_s / end_s(), Ink::plain, false});
        if (worst()) marks.push_back({cook_.moments[*worst()].time_s / end_s(), Ink::stop, true});
        const std::string words = desk_.moment() != nullptr ? fmt::format("after {}", Units::minutes(now_s()))
                                                            : std::string("as written");
        const float width = ImGui::GetContentRegionAvail().x;
        if (const auto pulled = ui_.slider("time in the cook", now_s() / end_s(), words, marks, width)) {
            // A knob that is held tells of its place in every frame.
            const std::size_t moment = cook_.near(*pulled * end_s());
            if (desk_.cooking().shown() != moment) desk_.wish(ShowMoment{moment});
        }
        const bool shown = desk_.moment() != nullptr;
        if (ui_.button("Earlier", shown, "One step back (Shift ,)")) desk_.wish(StepMoment{-1});
        ui_.beside("Later");
        if (ui_.button("Later", !shown || *desk_.cooking().shown() + 1 < cook_.moments.size(),
                       "One step on (Shift .)"))
            desk_.wish(StepMoment{1});
        if (worst()) {
            ui_.beside("Worst");
            if (ui_.toggle("Worst", desk_.cooking().shown() == worst(),
                           "Where motor and grip have least left: the triangle on the line"))
                desk_.wish(ShowMoment{worst()});
        }
        ui_.beside("Done");
        if (ui_.toggle("Done", desk_.cooking().shown() == cook_.moments.size() - 1, "As it comes off"))
            desk_.wish(ShowMoment{cook_.moments.size() - 1});
        ui_.beside("As written");
        if (ui_.toggle("As written", !shown, "The load as check judges it: at the worse of raw and done"))
            desk_.wish(ShowMoment{});
        if (!cook_.course.retighten.empty())
            ui_.say_small("At each stroke on the line, stop the motor and push a fork in.");
    }

    void colours() {
        const auto toggle = [&](const char* name, Colouring colouring, const char* hint) {
            const bool on = desk_.colouring() == colouring && desk_.moment() != nullptr;
            if (!ui_.toggle(name, on, hint)) return;
            desk_.wish(ShowColours{on ? Colouring::none : colouring});
            if (!on && desk_.moment() == nullptr) desk_.wish(ShowMoment{0});
        };
        toggle("Temperature", Colouring::temperature,
               "The body by its temperature: cut it open with Section");
        ui_.beside("Heat taken up");
        toggle("Heat taken up", Colouring::heat,
               "The skin by the heat that it took up so far, over the mean: where it browns first");
        if (desk_.colouring() != Colouring::temperature || desk_.moment() == nullptr) return;
        ui_.beside("Cut it open");
        if (ui_.toggle("Cut it open", desk_.section().has_value(),
                       "Across the rod, along it, not at all (K)"))
            desk_.wish(NextSection{});
    }

    /// What the load is at the moment.
    void state() {
        if (desk_.moment() == nullptr) {
            ui_.say_small(
                "Pull the knob: picture, findings, figures and curves are then those of that moment.");
            return;
        }
        const cook::CookMoment& moment = *desk_.moment();
        const RoastMoment& roast = moment_near(cook_.course.roast, moment.time_s);
        ui_.heading(fmt::format("After {}", Units::minutes(moment.time_s)));
        std::vector<std::string> places;
        for (const std::size_t p : told_places(load_, cook_.course.roast)) {
            const RoastPlace& place = cook_.course.roast.places[p];
            const bool all = place.kind == PlaceKind::core && load_.items.size() == 1;
            places.push_back(fmt::format("{} {}", all ? "all flesh" : place_label(load_, place),
                                         units_.temperature(roast.places_k[p])));
        }
        ui_.say_small(fmt::format("Coldest point: {}.", listed(places, "and")), Ink::plain);
        double now_kg = 0, first_kg = 0;
        for (std::size_t i = 0; i < roast.items.size(); ++i) {
            now_kg += roast.items[i].matter.mass_kg;
            first_kg += cook_.course.roast.moments.front().items[i].matter.mass_kg;
        }
        ui_.say_small(fmt::format("Weight {}, {} less than as it went in.", units_.mass(now_kg),
                                  units_.mass(first_kg - now_kg)),
                      Ink::plain);
        const Analysis& now = moment.analysis;
        std::string words = fmt::format("Gravity's torque {}; the motor works at {} of its rating",
                                        units_.torque(now.balance.gravity_torque_peak_n_m),
                                        Units::share(now.balance.motor_use));
        if (now.grip.torque_use)
            words +=
                fmt::format("; the forks bear {} of what they can hold", Units::share(*now.grip.torque_use));
        if (now.clearance.gap_min_m)
            words += fmt::format("; the least gap is {}", units_.slack(*now.clearance.gap_min_m));
        ui_.say_small(words + ".", Ink::plain);
        draw_findings(ui_, desk_);
    }

    /// A chart over time: a line at the moment, what its curves are under the pointer, and a click goes
    /// there.
    void chart(const Chart& chart, const char* name, float height) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float width = ImGui::GetContentRegionAvail().x;
        const Frame frame{at.x, at.y, width, height};
        ImDrawList& list = *ImGui::GetWindowDrawList();
        draw_picture(ui_, list, lay_out(chart, frame, letters_of(ui_), ui_.scale()), stale_);
        const bool pressed = ui_.pressed(name, {width, height}, name);
        const Frame plot = plot_of(frame, ui_.scale());
        const auto line = [&](double share, Ink ink) {
            const auto x = static_cast<float>(plot.x + share * plot.width);
            list.AddLine({x, static_cast<float>(plot.y)}, {x, static_cast<float>(plot.bottom())},
                         ui_.colour(ink, 0.8), ui_.px(1.5));
        };
        if (desk_.moment() != nullptr) line((now_s() - chart.x.from) / chart.x.size(), Ink::strong);
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        const bool inside = ImGui::IsItemHovered() && mouse.x >= plot.x && mouse.x <= plot.right();
        if (!inside) return;
        const double share = (mouse.x - plot.x) / plot.width, time_s = at_share(chart.x, share);
        line(share, Ink::accent);
        tell(chart, plot, mouse.x, time_s);
        if (pressed && !stale_) desk_.wish(ShowMoment{cook_.near(time_s)});
    }
    void tell(const Chart& chart, const Frame& plot, double x, double time_s) {
        const bool degrees = chart.find("cooker") != nullptr;
        std::vector<std::string> words;
        for (const Series& series : chart.series) {
            const auto value = value_at(series, time_s);
            if (!value || !std::isfinite(*value)) continue;
            words.push_back(fmt::format(
                "{} {}", series.name,
                degrees ? units_.temperature(from_scale(*value, units_.system())) : Units::share(*value)));
        }
        if (words.empty()) return;
        draw_plate(ui_, *ImGui::GetWindowDrawList(),
                   fmt::format("after {}: {}", Units::minutes(time_s), listed(words, "and")), plot, x);
    }

    Ui& ui_;
    Desk& desk_;
    const cook::CookMoments& cook_;
    const Assembly& load_;
    Units units_;
    bool stale_;
};

}  // namespace

void draw_cook(Ui& ui, Desk& desk) {
    if (!can_roast(desk.session().assembly())) {
        ui.say_small(
            "There is no cook to look at: the load file does not tell how hot the cooker is held. Write it "
            "under [cook], for example cooker_temperature = \"300 degF\", and the file is read again here.");
        return;
    }
    if (!desk.cooking().found()) {
        if (draw_cooking(ui, desk)) return;
        if (ui.button("Cook it", true, "Coarsely, in cubes of 8 mm: temperatures, weight, balance and grip"))
            desk.wish(SeekCook{});
        ui.say_small("Works out how the load warms, dries and softens, and what it then is at each moment.");
        return;
    }
    CookPanel(ui, desk).draw();
}

}  // namespace evenspit::viewer
