// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "app/viewer/panels/parts.h"
#include "load/thing.h"
#include "report/reader_units.h"
#include "units/dial.h"

namespace evenspit::viewer {
namespace {

/// Rows of a figure and what it was when pinned.
class Figures {
  public:
    Figures(Ui& ui, const Desk& desk) : ui_(ui), now_(desk.analysis()), units_(desk.settings().units) {
        if (desk.session().pinned()) pinned_ = &desk.session().pinned()->analysis;
    }

    template <typename Value>
    void row(const std::string& label, const Value& value) {
        const std::string now = value(now_);
        const float left = ImGui::GetCursorPosX(), width = ImGui::GetContentRegionAvail().x;
        const float second = (pinned_ != nullptr ? 0.40F : 0.46F) * width, third = 0.71F * width;
        const float gap = ui_.px(8);
        ui_.say_small(label, Ink::faint, second - gap);
        ImGui::SameLine(left + second);
        ui_.say_small(now, Ink::strong, (pinned_ != nullptr ? third - gap : width) - second);
        if (pinned_ == nullptr) return;
        ImGui::SameLine(left + third);
        ui_.say_small(value(*pinned_), Ink::pinned);
    }
    [[nodiscard]] const Units& units() const { return units_; }
    [[nodiscard]] bool pinned() const { return pinned_ != nullptr; }
    [[nodiscard]] const Analysis& now() const { return now_; }
    [[nodiscard]] Ui& ui() { return ui_; }

  private:
    Ui& ui_;
    const Analysis& now_;
    const Analysis* pinned_ = nullptr;
    Units units_;
};

}  // namespace

void draw_figures(Ui& ui, const Desk& desk) {
    Figures f(ui, desk);
    const Units& u = f.units();
    if (f.pinned()) ui.say_small("Now, and beside it as pinned", Ink::pinned);
    ui.heading("Balance and motor");
    f.row("all that turns", [&](const Analysis& a) { return u.mass(a.balance.mass_kg); });
    f.row("unbalance, at " + u.length(u.picture_arm_m()),
          [&](const Analysis& a) { return u.weight(a.balance.unbalance_kg_m_size / u.picture_arm_m()); });
    f.row("heavy side", [](const Analysis& a) { return dial_and_clock_text(a.balance.heavy_side_rad); });
    f.row("torque at most", [&](const Analysis& a) { return u.torque(a.balance.motor_torque_peak_n_m); });
    f.row("of it gravity", [&](const Analysis& a) { return u.torque(a.balance.gravity_torque_peak_n_m); });
    f.row("motor used", [](const Analysis& a) {
        return Units::share(a.balance.motor_use, {limits::motor_care, limits::motor_stop});
    });
    f.row("speed, mean", [&](const Analysis& a) {
        return a.turning.speed_mean_rad_s ? u.speed(*a.turning.speed_mean_rad_s)
                                          : std::string("stands still");
    });
    f.row("uneven by", [](const Analysis& a) { return Units::share(a.turning.irregularity); });
    f.row("load drives",
          [](const Analysis& a) { return Units::share(a.turning.overrun_share) + " of a turn"; });
    f.row("95 of 100 under", [&](const Analysis& a) {
        return a.uncertainty ? u.torque(a.uncertainty->gravity_torque_p95_n_m) : std::string(no_figure);
    });
    if (f.now().uncertainty && f.now().uncertainty->gravity_torque_p95_seen_n_m) {
        f.row("of it the scan", [&](const Analysis& a) {
            return a.uncertainty ? u.torque(a.uncertainty->of_scans_n_m()) : std::string(no_figure);
        });
    }
    ui.heading("Rod");
    f.row("sag", [&](const Analysis& a) { return u.slack(a.rod.sag_max_m, {0, limits::sag_care_m}); });
    f.row("stress", [&](const Analysis& a) { return u.stress(a.rod.stress_max_pa); });
    f.row("of its yield", [](const Analysis& a) {
        return Units::share(a.rod.yield_use, {limits::yield_care, limits::yield_stop});
    });
    f.row("drive carries", [&](const Analysis& a) { return u.force(a.rod.reactions_n[0]); });
    f.row("far bearing", [&](const Analysis& a) { return u.force(a.rod.reactions_n[1]); });
    ui.heading("Grip");
    f.row("used", [](const Analysis& a) {
        if (a.grip.torque_use)
            return Units::share(*a.grip.torque_use, {limits::grip_care, limits::grip_stop});
        const bool in_basket =
            std::any_of(a.grip.items.begin(), a.grip.items.end(),
                        [](const ItemGrip& item) { return item.basket_out_m.has_value(); });
        return std::string(in_basket ? "a basket holds" : "nothing holds");
    });
    for (std::size_t i = 0; i < f.now().grip.forks.size(); ++i) {
        // A basket holds by being closed, not by how hard it grips.
        if (desk.session().assembly().forks[i].kind == ForkKind::basket) continue;
        f.row(fork_name(desk.session().assembly().forks, i) + " holds", [&, i](const Analysis& a) {
            return i < a.grip.forks.size() ? u.torque(a.grip.forks[i].torque_capacity_n_m) : std::string();
        });
    }
    ui.heading("Gaps, sag included");
    for (std::size_t s = 0; s < f.now().clearance.surfaces.size(); ++s) {
        f.row(f.now().clearance.surfaces[s].name, [&, s](const Analysis& a) {
            if (s >= a.clearance.surfaces.size()) return std::string();
            const SurfaceGap& gap = a.clearance.surfaces[s];
            return u.slack(gap.gap_m, {0, limits::gap_stop_m, gap.keep_m});
        });
    }
    ui.say_small("A thermometer in the thickest flesh decides when it is done. Hot metal and fat burn.");
}

}  // namespace evenspit::viewer
