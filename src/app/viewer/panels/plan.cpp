// SPDX-License-Identifier: MIT
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "report/plan_words.h"
#include "report/reader_units.h"
#include "report/report.h"

namespace evenspit::viewer {
namespace {

void draw_answers(Ui& ui, Desk& desk, const plan::Plan& plan) {
    const UnitSystem units = desk.settings().units;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        const plan::PlanAnswer& answer = plan.answers[i];
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const std::string words =
            fmt::format("{}   {}   {}{}", level_mark(answer.analysis.verdict), answer_title(plan, i),
                        Units(units).torque(answer.gravity_torque_worst_n_m),
                        i == plan.recommended ? "   ★ recommended" : "");
        if (ui.row(fmt::format("{}##answer{}", words, i), desk.planning().shown() == i, ui.px(24)))
            desk.wish(ShowAnswer{i});
        level_shape(list, {at.x + ui.px(10), at.y + ui.px(8)}, ui.px(5.5), answer.analysis.verdict,
                    ui.colour(ink_of(answer.analysis.verdict)));
    }
    ui.say_small("The torque is gravity's peak at the worse end of the cook.");
    const std::size_t shown = desk.planning().shown();
    ui.heading(answer_title(plan, shown));
    const Assembly& load = desk.session().assembly();
    ui.say_small(answer_why(load, plan, shown, units), Ink::plain);
    int number = 0;
    const std::vector<std::string> steps = answer_steps(load, plan, shown, units);
    for (const std::string& step : steps) ui.say_small(fmt::format("{}  {}", ++number, step), Ink::plain);
    if (ui.button("Take it", !steps.empty() || shown == 0, "Put everything there; it can be undone"))
        desk.wish(TakeAnswer{});
    ui.beside("Before");
    if (ui.button("Before", shown > 0)) desk.wish(ShowAnswer{shown - 1});
    ui.beside("Next");
    if (ui.button("Next", shown + 1 < plan.answers.size())) desk.wish(ShowAnswer{shown + 1});
    if (plan.limits.empty()) return;
    ui.heading("What stands in the way");
    for (const plan::PlanLimit& limit : plan.limits) ui.say_small(limit_text(limit, load, units), Ink::plain);
}

}  // namespace

void draw_plan(Ui& ui, Desk& desk) {
    if (desk.planning().running()) {
        const auto [share, what] = desk.planning().progress();
        ui.say_small(what.empty() ? std::string("planning …") : fmt::format("{} …", what));
        draw_progress(ui, share);
        if (ui.button("Cancel")) desk.wish(CancelPlan{});
        return;
    }
    if (ui.button(desk.planning().plan() ? "Seek again" : "Seek a better setting", true,
                  "Rod line, turn, forks and counterweights (N)"))
        desk.wish(SeekPlan{});
    if (!desk.planning().plan()) {
        ui.say_small(
            "Works out where the rod should run, how forks and counterweights should sit, and what each "
            "costs "
            "in effort. Nothing is moved until you take an answer.");
        return;
    }
    if (desk.plan_is_stale())
        ui.say_small("Things were moved since: these answers belong to how it was.", Ink::care);
    draw_answers(ui, desk, *desk.planning().plan());
}

}  // namespace evenspit::viewer
