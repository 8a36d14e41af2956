// SPDX-License-Identifier: MIT
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "app/viewer/panels/parts.h"
#include "load/thing.h"
#include "units/tell.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

/// Rows of a figure and what it was when pinned.
class Figures {
  public:
    Figures(Ui& ui, const Desk& desk)
        : ui_(ui), now_(desk.answers().analysis()), units_(desk.settings().units) {
        if (desk.session().pinned()) pinned_ = &desk.session().pinned()->analysis;
    }

    template <typename Value>
    void row(const std::string& label, const Value& value) {
        const std::string now = value(now_);
        const float left = ImGui::GetCursorPosX(), width = ImGui::GetContentRegionAvail().x;
        ui_.say_small(label, Ink::faint);
        ImGui::SameLine(left + (pinned_ != nullptr ? 0.42F : 0.46F) * width);
        ui_.say_small(now, Ink::strong);
        if (pinned_ == nullptr) return;
        ImGui::SameLine(left + 0.73F * width);
        ui_.say_small(value(*pinned_), Ink::pinned);
    }
    [[nodiscard]] std::string words(double si, Dimension dimension) const {
        return format_quantity(std::abs(si) < 1e-6 ? 0 : si, dimension, units_);
    }
    [[nodiscard]] bool pinned() const { return pinned_ != nullptr; }
    [[nodiscard]] const Analysis& now() const { return now_; }
    [[nodiscard]] Ui& ui() { return ui_; }

  private:
    Ui& ui_;
    const Analysis& now_;
    const Analysis* pinned_ = nullptr;
    UnitSystem units_;
};

}  // namespace

void draw_figures(Ui& ui, const Desk& desk) {
    Figures f(ui, desk);
    const auto torque = [&f](double v) { return f.words(v, Dimension::torque); };
    const auto length = [&f](double v) { return f.words(v, Dimension::length); };
    const auto speed = [&f](const std::optional<double>& v) {
        return v ? f.words(*v, Dimension::angular_speed) : std::string("stands still");
    };
    if (f.pinned()) ui.say_small("Now, and beside it as pinned", Ink::pinned);
    ui.heading("Balance and motor");
    f.row("all that turns", [&](const Analysis& a) { return f.words(a.balance.mass_kg, Dimension::mass); });
    f.row("unbalance, at 100 mm",
          [&](const Analysis& a) { return f.words(a.balance.unbalance_kg_m_size / 0.1, Dimension::mass); });
    f.row("heavy side",
          [](const Analysis& a) { return fmt::format("{:.0f}°", a.balance.heavy_side_rad * 180 / pi); });
    f.row("torque at most", [&](const Analysis& a) { return torque(a.balance.motor_torque_peak_n_m); });
    f.row("of it gravity", [&](const Analysis& a) { return torque(a.balance.gravity_torque_peak_n_m); });
    f.row("motor used", [](const Analysis& a) { return share_text(a.balance.motor_use); });
    f.row("speed, mean", [&](const Analysis& a) { return speed(a.turning.speed_mean_rad_s); });
    f.row("uneven by", [](const Analysis& a) {
        return a.turning.irregularity ? share_text(*a.turning.irregularity) : std::string("–");
    });
    f.row("load drives",
          [](const Analysis& a) { return share_text(a.turning.overrun_share) + " of a turn"; });
    f.row("95 of 100 under", [&](const Analysis& a) {
        return a.uncertainty ? torque(a.uncertainty->gravity_torque_p95_n_m) : std::string("–");
    });
    if (f.now().uncertainty && f.now().uncertainty->gravity_torque_p95_seen_n_m) {
        f.row("of it the scan", [&](const Analysis& a) {
            return a.uncertainty ? torque(a.uncertainty->of_scans_n_m()) : std::string("–");
        });
    }
    ui.heading("Rod");
    f.row("sag", [&](const Analysis& a) { return length(a.rod.sag_max_m); });
    f.row("stress", [&](const Analysis& a) { return f.words(a.rod.stress_max_pa, Dimension::pressure); });
    f.row("of its yield", [](const Analysis& a) { return share_text(a.rod.yield_use); });
    f.row("drive carries",
          [&](const Analysis& a) { return f.words(a.rod.reactions_n[0], Dimension::force); });
    f.row("far bearing", [&](const Analysis& a) { return f.words(a.rod.reactions_n[1], Dimension::force); });
    ui.heading("Grip");
    f.row("used", [](const Analysis& a) {
        return a.grip.torque_use ? share_text(*a.grip.torque_use) : std::string("nothing holds");
    });
    for (std::size_t i = 0; i < f.now().grip.forks.size(); ++i) {
        f.row(fork_name(i) + " holds", [&, i](const Analysis& a) {
            return i < a.grip.forks.size() ? torque(a.grip.forks[i].torque_capacity_n_m) : std::string();
        });
    }
    ui.heading("Gaps, sag included");
    for (std::size_t s = 0; s < f.now().clearance.surfaces.size(); ++s) {
        f.row(f.now().clearance.surfaces[s].name, [&, s](const Analysis& a) {
            return s < a.clearance.surfaces.size() ? length(a.clearance.surfaces[s].gap_m) : std::string();
        });
    }
    ui.say_small("A thermometer in the thickest flesh decides when it is done. Hot metal and fat burn.");
}

}  // namespace evenspit::viewer
