// SPDX-License-Identifier: MIT
#include "app/viewer/panels.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <numbers>
#include <system_error>

#include <fmt/format.h>

#include "app/viewer/charts.h"
#include "app/viewer/panels_inside.h"
#include "load/thing.h"
#include "report/finding_words.h"
#include "report/plan_words.h"
#include "report/report.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

ImVec2 corner(double x, double y) {
    return {static_cast<float>(x), static_cast<float>(y)};
}

void begin_area(const char* name, const Area& area, ImVec2 padding, ImGuiWindowFlags more = 0) {
    ImGui::SetNextWindowPos(corner(area.x, area.y));
    ImGui::SetNextWindowSize(corner(area.width, area.height));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, padding);
    ImGui::Begin(name, nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav | more);
    ImGui::PopStyleVar();
}

/// A shape beside the word: a disc for ready, a triangle for care, an octagon for stop.
void level_shape(ImDrawList& list, ImVec2 centre, float radius, Level level, ImU32 fill) {
    switch (level) {
        case Level::ready:
            list.AddCircleFilled(centre, radius, fill, 32);
            break;
        case Level::care:
            list.AddTriangleFilled({centre.x, centre.y - radius},
                                   {centre.x + radius, centre.y + 0.8F * radius},
                                   {centre.x - radius, centre.y + 0.8F * radius}, fill);
            break;
        case Level::stop:
            list.AddNgonFilled(centre, radius, fill, 8);
            break;
    }
}

// --- the bar ---

void draw_bar(Ui& ui, Desk& desk, const Layout& layout) {
    begin_area("bar", layout.bar, {ui.px(10), ui.px(8)}, ImGuiWindowFlags_NoScrollWithMouse);
    const bool loaded = desk.has_load();
    const auto next = [&ui](double gap = 6) { ImGui::SameLine(0, ui.px(gap)); };
    if (ui.button("Open", true,
                  "Open a load file (Ctrl O). Load files and scans can be dropped on the window too."))
        desk.wish(ShowDialog{static_cast<int>(Dialog::open)});
    next();
    if (ui.button("Save", loaded, "Save (Ctrl S). Comments in the file stay.")) desk.wish(Save{});
    next();
    // Where there is little room, keys do what buttons would.
    const bool roomy = layout.bar.width > ui.px(1000);
    if (roomy && ui.button("Save as", loaded, "Save under another name (Ctrl Shift S)"))
        desk.wish(ShowDialog{static_cast<int>(Dialog::save_as)});
    next(14);
    const std::string undo = loaded ? desk.session().undo_name() : "";
    const std::string redo = loaded ? desk.session().redo_name() : "";
    if (ui.button("Undo", !undo.empty(),
                  undo.empty() ? "Nothing to undo" : fmt::format("Undo: {} (Ctrl Z)", undo)))
        desk.wish(Undo{});
    next();
    if (ui.button("Redo", !redo.empty(),
                  redo.empty() ? "Nothing to do again" : fmt::format("Do again: {} (Ctrl Y)", redo)))
        desk.wish(Redo{});
    next();
    const bool pinned = loaded && desk.session().pinned();
    if (ui.toggle(pinned ? "Unpin" : "Pin", pinned,
                  "Keep this state to compare with (P): its curves stay, dashed."))
        pinned ? desk.wish(Unpin{}) : desk.wish(Pin{});
    next(14);
    for (const StandardView view : {StandardView::home, StandardView::front, StandardView::drive_end,
                                    StandardView::point_end, StandardView::above}) {
        if (!roomy && view == StandardView::point_end) continue;
        if (ui.button(std::string(view_name(view)), loaded)) desk.wish(LookFrom{view});
        next();
    }
    if (ui.button("Fit", loaded, "Everything into view (F)")) desk.wish(FrameAll{});
    next(14);
    if (ui.toggle("Inside", desk.settings().through_skin, "Skin as glass: bones, hollow and tines (X)"))
        desk.wish(ToggleSkin{});
    next();
    if (ui.toggle("Sweep", desk.shows_envelope(), "What the load sweeps as it turns (E)"))
        desk.wish(ToggleEnvelope{});
    next();
    if (ui.toggle("Cooker", desk.shows_cooker(), "The cooker's walls and coals (C)"))
        desk.wish(ToggleCooker{});
    next(14);
    if (ui.button("Help", true, "Keys and settings (F1)"))
        desk.wish(ShowDialog{static_cast<int>(Dialog::help)});
    const ImVec2 size = ImGui::GetWindowSize();
    ImGui::GetWindowDrawList()->AddLine({0, size.y - 1}, {size.x, size.y - 1}, colour_of(Ink::line),
                                        ui.px(1));
    ImGui::End();
}

// --- turning ---

void draw_turn(Ui& ui, Desk& desk, const Layout& layout) {
    begin_area("turn", layout.turn, {ui.px(10), ui.px(5)}, ImGuiWindowFlags_NoScrollWithMouse);
    const bool ready = desk.has_answer();
    const TurnPlay& turn = desk.turn();
    const auto next = [&ui](double gap = 6) { ImGui::SameLine(0, ui.px(gap)); };
    if (ui.button(turn.playing ? "■ Stop turning" : "▶ Turn", ready,
                  "Turn with the motor's computed speed (Space)"))
        desk.wish(Play{!turn.playing});
    next();
    for (const double pace : {1.0, 4.0, 16.0}) {
        if (ui.toggle(fmt::format("{:.0f}×", pace), turn.pace == pace, pace == 1 ? "True speed" : "Faster"))
            desk.wish(SetPace{pace});
        next(4);
    }
    next(10);
    constexpr double step = 5 * pi / 180;
    if (ui.button("−5°", ready, "Back by hand (,)")) desk.wish(SetTurn{turn.angle_rad - step});
    next(4);
    if (ui.button("+5°", ready, "On by hand (.)")) desk.wish(SetTurn{turn.angle_rad + step});
    next(10);
    auto degrees = static_cast<float>(turn.angle_rad * 180 / pi);
    ImGui::SetNextItemWidth(ui.px(120));
    if (ImGui::SliderFloat("##angle", &degrees, 0, 359, "at %.0f°") && ready)
        desk.wish(SetTurn{static_cast<double>(degrees) * pi / 180});
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    ui.note(fmt::format("at {:.0f}°", degrees), {min.x, min.y, max.x - min.x, max.y - min.y}, true);
    if (ready) {
        next(12);
        const Balance& balance = desk.answers().analysis().balance;
        const Motor& motor = desk.session().assembly().motor;
        const double torque = torque_at(balance, turn.angle_rad);
        const double speed = speed_at(balance, motor, turn.angle_rad);
        const UnitSystem units = desk.settings().units;
        std::string words = fmt::format("{}, {}", format_quantity(torque, Dimension::torque, units),
                                        format_quantity(speed, Dimension::angular_speed, units));
        Ink ink = Ink::plain;
        if (speed <= 0) {
            words = fmt::format("stalled: {}", words);
            ink = Ink::stop;
        } else if (torque < 0) {
            words += ", the load drives";
            ink = Ink::care;
        }
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ui.letters(*ImGui::GetWindowDrawList(), ui.regular(), at.x, at.y + ui.px(4), words, ink);
    }
    ImGui::End();
}

void draw_chart_strip(Ui& ui, const Desk& desk, const Layout& layout) {
    begin_area("charts", layout.charts, {0, 0}, ImGuiWindowFlags_NoScrollWithMouse);
    const Area& area = layout.charts;
    ImGui::GetWindowDrawList()->AddLine(corner(area.x, area.y), corner(area.x + area.width, area.y),
                                        colour_of(Ink::line), ui.px(1));
    draw_charts(ui, desk, area);
    ImGui::End();
}

// --- the side ---

void draw_verdict(Ui& ui, const Desk& desk) {
    const Analysis& now = desk.answers().analysis();
    const bool stale = desk.answers().stale();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(62);
    const Ink ink = ink_of(now.verdict);
    const double opacity = stale ? 0.45 : 1;
    list.AddRectFilled(at, {at.x + width, at.y + height}, colour_of(ink, 0.13 * opacity), ui.px(6));
    list.AddRectFilled(at, {at.x + ui.px(5), at.y + height}, colour_of(ink, opacity), ui.px(2));
    level_shape(list, {at.x + ui.px(28), at.y + height / 2}, ui.px(13), now.verdict, colour_of(ink, opacity));
    ui.letters(list, ui.large(), at.x + ui.px(52), at.y + ui.px(8), level_mark(now.verdict), ink, opacity);
    ui.letters(list, ui.regular(), at.x + ui.px(52), at.y + ui.px(36), verdict_sentence(now.verdict),
               Ink::plain, opacity);
    if (stale) {
        const std::string words = "working out …";
        const float w = ui.size_of(ui.small(), words).x;
        ui.letters(list, ui.small(), at.x + width - w - ui.px(8), at.y + ui.px(8), words, Ink::accent);
    }
    ImGui::Dummy({width, height});
    if (!desk.answers().failure().empty())
        ui.say("Cannot be worked out: " + desk.answers().failure(), Ink::stop);
}

/// Where the view goes when a finding is clicked.
Vec3 place_of(const Finding& finding, const Desk& desk) {
    if (!finding.spot) return {desk.answers().analysis().balance.centre_x_m, 0, 0};
    return finding.spot->turns ? turned_rod(desk.turn().angle_rad) * finding.spot->at : finding.spot->at;
}

/// What is chosen when a finding is clicked: what it is about, if hands can move that.
std::optional<Thing> chosen_by(const Finding& finding) {
    Thing thing = finding.about;
    if (thing.kind == Thing::Kind::tine) thing = {Thing::Kind::fork, thing.index};
    if (thing.kind == Thing::Kind::limb) thing = {Thing::Kind::item, thing.index};
    return movable(thing) ? std::optional(thing) : std::nullopt;
}

void draw_findings(Ui& ui, Desk& desk) {
    const Analysis& now = desk.answers().analysis();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    int number = 0;
    std::size_t passed = 0;
    for (const Finding& finding : now.findings) {
        if (finding.level == Level::ready && finding.value && finding.limit) ++passed;
    }
    for (const Finding& finding : now.findings) {
        if (finding.level == Level::ready && finding.value && finding.limit) continue;  // told by the figures
        const std::string words = finding_text(finding, desk.answers().assembly(), desk.settings().units);
        ImGui::PushID(number++);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float width = ImGui::GetContentRegionAvail().x;
        const float indent = ui.px(54);
        const ImVec2 size =
            ui.small()->CalcTextSizeA(ui.small()->FontSize, width, width - indent - ui.px(6), words.c_str());
        const float height = size.y + ui.px(8);
        const bool pressed = ImGui::InvisibleButton("finding", {width, height});
        if (ImGui::IsItemHovered())
            list.AddRectFilled(at, {at.x + width, at.y + height}, colour_of(Ink::accent, 0.10), ui.px(4));
        const Ink ink = finding.level == Level::ready ? Ink::faint : ink_of(finding.level);
        const ImVec2 mark(at.x + ui.px(8), at.y + ui.px(11));
        if (finding.level == Level::ready) {
            list.AddCircle(mark, ui.px(3.5), colour_of(ink), 16, ui.px(1.2));
        } else {
            level_shape(list, mark, ui.px(5.5), finding.level, colour_of(ink));
        }
        ui.letters(list, ui.small(), at.x + ui.px(18), at.y + ui.px(4),
                   finding.level == Level::ready ? "note" : level_mark(finding.level), ink);
        list.AddText(ui.small(), ui.small()->FontSize, {at.x + indent, at.y + ui.px(4)},
                     colour_of(Ink::plain), words.c_str(), nullptr, width - indent - ui.px(6));
        ui.note(words, {at.x, at.y, width, height}, true);
        if (pressed) {
            desk.wish(LookAt{place_of(finding, desk)});
            if (const std::optional<Thing> chosen = chosen_by(finding)) desk.wish(Select{*chosen});
        }
        ImGui::PopID();
    }
    if (passed > 0) ui.say_small(fmt::format("{} further questions are in order: see the figures.", passed));
}

void wish_or_trouble(Ui& ui, Desk& desk) {
    if (!ui.trouble().empty()) desk.tell_trouble(ui.trouble());
}

void draw_seat(Ui& ui, Desk& desk, std::size_t index) {
    const Item& item = desk.session().assembly().items[index];
    const UnitSystem units = desk.settings().units;
    Seat seat = item.seat;
    bool changed = false;
    const auto take = [&changed](std::optional<double> typed, double& into) {
        if (!typed) return;
        into = *typed;
        changed = true;
    };
    take(ui.quantity("at", seat.at_m, Dimension::length, units), seat.at_m);
    take(ui.quantity("turn", seat.turn_rad, Dimension::angle, units), seat.turn_rad);
    const char* first_end = item.bird ? "vent" : "start";
    const char* last_end = item.bird ? "neck" : "end";
    take(ui.quantity(fmt::format("line, {} y", first_end), seat.line.from.x(), Dimension::length, units),
         seat.line.from.x());
    take(ui.quantity(fmt::format("line, {} z", first_end), seat.line.from.y(), Dimension::length, units),
         seat.line.from.y());
    take(ui.quantity(fmt::format("line, {} y", last_end), seat.line.to.x(), Dimension::length, units),
         seat.line.to.x());
    take(ui.quantity(fmt::format("line, {} z", last_end), seat.line.to.y(), Dimension::length, units),
         seat.line.to.y());
    if (ui.button(seat.facing == Facing::point ? "Faces the point" : "Faces the drive", true,
                  "Turn it end for end")) {
        seat.facing = seat.facing == Facing::point ? Facing::drive : Facing::point;
        changed = true;
    }
    if (changed) desk.wish(DoEdit{SetSeat{index, seat}, ""});
}

void draw_fork(Ui& ui, Desk& desk, std::size_t index) {
    const Fork& fork = desk.session().assembly().forks[index];
    const UnitSystem units = desk.settings().units;
    SetFork edit{index, fork.at_m, fork.points, fork.clock_rad};
    bool changed = false;
    if (const auto typed = ui.quantity("at", fork.at_m, Dimension::length, units)) {
        edit.at_m = *typed;
        changed = true;
    }
    if (const auto typed = ui.quantity("clock", fork.clock_rad, Dimension::angle, units)) {
        edit.clock_rad = *typed;
        changed = true;
    }
    if (ui.button(fork.points == Facing::point ? "Tines look to the point" : "Tines look to the drive", true,
                  "Turn the fork end for end")) {
        edit.points = fork.points == Facing::point ? Facing::drive : Facing::point;
        changed = true;
    }
    if (changed) desk.wish(DoEdit{edit, ""});
}

void draw_weight(Ui& ui, Desk& desk, std::size_t index) {
    Counterweight weight = desk.session().assembly().counterweights[index];
    const UnitSystem units = desk.settings().units;
    bool changed = false;
    const auto take = [&](const char* name, double& value, Dimension dimension) {
        if (const auto typed = ui.quantity(name, value, dimension, units)) {
            value = *typed;
            changed = true;
        }
    };
    take("at", weight.at_m, Dimension::length);
    take("mass", weight.mass_kg, Dimension::mass);
    take("radius", weight.radius_m, Dimension::length);
    take("clock", weight.clock_rad, Dimension::angle);
    take("diameter", weight.diameter_m, Dimension::length);
    if (changed) desk.wish(DoEdit{SetWeight{index, weight}, ""});
    if (ui.button("Take it away")) desk.wish(DoEdit{RemoveWeight{index}, ""});
}

/// A counterweight that answers the unbalance: opposite the heavy side, at a usual radius.
Counterweight answering_weight(const Desk& desk) {
    const Balance& balance = desk.answers().analysis().balance;
    const Assembly& load = desk.session().assembly();
    constexpr double radius_m = 0.080, diameter_m = 0.040;
    // Whole ten grams, so that it can be found.
    const double mass = std::max(0.05, std::round(balance.unbalance_kg_m_size / radius_m * 100) / 100);
    double at = load.rod.usable_m[0] + diameter_m;
    for (const Fork& fork : load.forks) at = std::min(at, fork.at_m - diameter_m);
    const double opposite = std::round((balance.heavy_side_rad + pi) * 180 / pi) * pi / 180;
    return {.at_m = std::max(at, load.rod.usable_m[0] + diameter_m / 2),
            .mass_kg = mass,
            .radius_m = radius_m,
            .clock_rad = std::fmod(opposite, 2 * pi),
            .diameter_m = diameter_m};
}

void draw_places(Ui& ui, Desk& desk) {
    const Assembly& load = desk.session().assembly();
    const UnitSystem units = desk.settings().units;
    const auto list = [&](Thing::Kind kind, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const Thing thing{kind, i};
            const Whereabouts where = whereabouts(load, thing);
            const std::string words = fmt::format("{}   at {}, clock {:.0f}°", thing_name(thing, load),
                                                  format_quantity(where.at_m, Dimension::length, units),
                                                  where.clock_rad * 180 / pi);
            if (ui.row(words + "##" + thing_name(thing, load), desk.selected() == thing))
                desk.wish(Select{thing});
        }
    };
    list(Thing::Kind::item, load.items.size());
    list(Thing::Kind::fork, load.forks.size());
    list(Thing::Kind::counterweight, load.counterweights.size());
    if (ui.button("Add a counterweight", true, "One that answers the heavy side; move it as you like"))
        desk.wish(DoEdit{AddWeight{answering_weight(desk)}, ""});
    const Thing& selected = desk.selected();
    if (!movable(selected)) {
        ui.say_small(
            "Choose something here or in the picture; then type its place with a unit, or drag its handles.");
        return;
    }
    ui.heading(thing_name(selected, load));
    ImGui::PushID(static_cast<int>(selected.kind) * 1000 + static_cast<int>(selected.index));
    if (selected.kind == Thing::Kind::item && selected.index < load.items.size())
        draw_seat(ui, desk, selected.index);
    if (selected.kind == Thing::Kind::fork && selected.index < load.forks.size())
        draw_fork(ui, desk, selected.index);
    if (selected.kind == Thing::Kind::counterweight && selected.index < load.counterweights.size())
        draw_weight(ui, desk, selected.index);
    ImGui::PopID();
    ui.say_small("Arrow keys: along and round. With Alt: the rod line. Shift: larger steps.");
}

std::string percent(double share) {
    return fmt::format("{:.{}f} %", 100 * share, share < 0.0995 ? 1 : 0);
}

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
    f.row("motor used", [](const Analysis& a) { return percent(a.balance.motor_use); });
    f.row("speed, mean", [&](const Analysis& a) { return speed(a.turning.speed_mean_rad_s); });
    f.row("uneven by", [](const Analysis& a) {
        return a.turning.irregularity ? percent(*a.turning.irregularity) : std::string("–");
    });
    f.row("load drives", [](const Analysis& a) { return percent(a.turning.overrun_share) + " of a turn"; });
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
    f.row("of its yield", [](const Analysis& a) { return percent(a.rod.yield_use); });
    f.row("drive carries",
          [&](const Analysis& a) { return f.words(a.rod.reactions_n[0], Dimension::force); });
    f.row("far bearing", [&](const Analysis& a) { return f.words(a.rod.reactions_n[1], Dimension::force); });
    ui.heading("Grip");
    f.row("used", [](const Analysis& a) {
        return a.grip.torque_use ? percent(*a.grip.torque_use) : std::string("nothing holds");
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

std::string heading_of(const PlanAnswer& answer) {
    std::string words(answer_name(answer.kind));
    words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    return words;
}

/// A bar that fills, or where it is not known how far the work is, a piece that runs to and fro.
void draw_progress(Ui& ui, double share) {
    constexpr float piece = 0.25F;
    const float width = ImGui::GetContentRegionAvail().x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto known = static_cast<float>(std::clamp(share, 0.0, 1.0));
    const auto swing = static_cast<float>(0.5 - 0.5 * std::cos(2 * ImGui::GetTime()));
    const float from = share >= 0 ? 0 : swing * (1 - piece), to = share >= 0 ? known : from + piece;
    list.AddRectFilled(at, {at.x + width, at.y + ui.px(6)}, colour_of(Ink::veil), ui.px(3));
    list.AddRectFilled({at.x + from * width, at.y}, {at.x + to * width, at.y + ui.px(6)},
                       colour_of(Ink::accent), ui.px(3));
    ImGui::Dummy({width, ui.px(10)});
}

void draw_answers(Ui& ui, Desk& desk, const Plan& plan) {
    const UnitSystem units = desk.settings().units;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        const PlanAnswer& answer = plan.answers[i];
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const std::string words =
            fmt::format("      {}   {}   {}{}", level_mark(answer.analysis.verdict), heading_of(answer),
                        format_quantity(answer.gravity_torque_worst_n_m, Dimension::torque, units),
                        i == plan.recommended ? "   ★ recommended" : "");
        if (ui.row(fmt::format("{}##answer{}", words, i), desk.shown_answer() == i)) desk.wish(ShowAnswer{i});
        level_shape(list, {at.x + ui.px(10), at.y + ui.px(8)}, ui.px(5.5), answer.analysis.verdict,
                    colour_of(ink_of(answer.analysis.verdict)));
    }
    ui.say_small("The torque is gravity's peak at the worse end of the cook.");
    const std::size_t shown = desk.shown_answer();
    const PlanAnswer& answer = plan.answers[shown];
    ui.heading(heading_of(answer));
    const Assembly& load = desk.session().assembly();
    ui.say_small(answer_why(load, plan, shown, units), Ink::plain);
    int number = 0;
    const std::vector<std::string> steps = answer_steps(load, plan, shown, units);
    for (const std::string& step : steps) ui.say_small(fmt::format("{}  {}", ++number, step), Ink::plain);
    if (ui.button("Take it", !steps.empty() || shown == 0, "Put everything there; it can be undone"))
        desk.wish(TakeAnswer{});
    ImGui::SameLine();
    if (ui.button("Before", shown > 0)) desk.wish(ShowAnswer{shown - 1});
    ImGui::SameLine();
    if (ui.button("Next", shown + 1 < plan.answers.size())) desk.wish(ShowAnswer{shown + 1});
    if (plan.limits.empty()) return;
    ui.heading("What stands in the way");
    for (const PlanLimit& limit : plan.limits) ui.say_small(limit_text(limit, load, units), Ink::plain);
}

void draw_plan(Ui& ui, Desk& desk) {
    if (desk.planning()) {
        const auto [share, what] = desk.planning_progress();
        ui.say_small(what.empty() ? std::string("planning …") : fmt::format("{} …", what));
        draw_progress(ui, share);
        if (ui.button("Cancel")) desk.wish(CancelPlan{});
        return;
    }
    if (ui.button(desk.plan() ? "Seek again" : "Seek a better setting", true,
                  "Rod line, turn, forks and counterweights (N)"))
        desk.wish(SeekPlan{});
    if (!desk.plan()) {
        ui.say_small(
            "Works out where the rod should run, how forks and counterweights should sit, and what each "
            "costs "
            "in effort. Nothing is moved until you take an answer.");
        return;
    }
    if (desk.plan_is_stale())
        ui.say_small("Things were moved since: these answers belong to how it was.", Ink::care);
    draw_answers(ui, desk, *desk.plan());
}

void draw_side(Ui& ui, Desk& desk, const Layout& layout) {
    begin_area("side", layout.side, {ui.px(14), ui.px(10)}, ImGuiWindowFlags_NoScrollWithMouse);
    const Area& area = layout.side;
    ImGui::GetWindowDrawList()->AddLine(corner(area.x, area.y), corner(area.x, area.y + area.height),
                                        colour_of(Ink::line), ui.px(1));
    if (!desk.has_answer()) {
        ui.say(desk.reading().empty() ? "No load on the table." : "");
        ImGui::End();
        return;
    }
    const Assembly& load = desk.session().assembly();
    ui.say(load.title, Ink::strong);
    const std::string file =
        desk.session().file().empty() ? "not saved yet" : desk.session().file().filename().string();
    ui.say_small(desk.session().unsaved() ? file + ", changed" : file);
    draw_verdict(ui, desk);
    constexpr std::array<std::pair<Tab, const char*>, 4> tabs = {{{Tab::findings, "Findings"},
                                                                  {Tab::places, "Places"},
                                                                  {Tab::figures, "Figures"},
                                                                  {Tab::plan, "Plan"}}};
    for (const auto& [tab, name] : tabs) {
        if (tab != tabs.front().first) ImGui::SameLine(0, ui.px(6));
        if (ui.toggle(name, desk.tab() == tab)) desk.wish(ShowTab{static_cast<int>(tab)});
    }
    ImGui::BeginChild("tab", {0, 0}, false);
    switch (desk.tab()) {
        case Tab::findings:
            draw_findings(ui, desk);
            break;
        case Tab::places:
            draw_places(ui, desk);
            break;
        case Tab::figures:
            draw_figures(ui, desk);
            break;
        case Tab::plan:
            draw_plan(ui, desk);
            break;
    }
    ImGui::EndChild();
    wish_or_trouble(ui, desk);
    ImGui::End();
}

// --- over the scene ---

/// Ends a window that lies over the scene.
void end_over_scene(Ui& ui) {
    const ImVec2 at = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
    ui.cover({at.x, at.y, size.x, size.y});
    ImGui::End();
}

void draw_hints(Ui& ui, Desk& desk, const Layout& layout) {
    if (desk.settings().welcomed || !desk.has_answer()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + ui.px(14), scene.y + scene.height - ui.px(14)), ImGuiCond_Always,
                            {0, 1});
    ImGui::SetNextWindowSize({ui.px(310), 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, ui.px(6));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, ui.px(1));
    ImGui::Begin("hints", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoNav |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoFocusOnAppearing);
    const std::array<const char*, 3> steps = {"Drop a scan or a load file on this window, or press Open.",
                                              "Click the roast, take a round handle at its end and shift the "
                                              "rod line until the heavy side is gone.",
                                              "Press Save. Your load file keeps its comments."};
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const bool done = desk.steps_done()[i];
        ui.say_small(fmt::format("{}  {}", done ? "✔" : std::to_string(i + 1), steps[i]),
                     done ? Ink::ready : Ink::plain);
    }
    if (ui.button("Got it")) desk.wish(PutHintsAway{});
    end_over_scene(ui);
    ImGui::PopStyleVar(2);
}

void draw_notice(Ui& ui, Desk& desk, const Layout& layout) {
    if (!desk.notice()) return;
    const Notice& notice = *desk.notice();
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + scene.width / 2, scene.y + ui.px(12)), ImGuiCond_Always,
                            {0.5F, 0});
    ImGui::SetNextWindowSize({std::min(ui.px(560), static_cast<float>(scene.width) - ui.px(40)), 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, ui.px(6));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, ui.px(1));
    ImGui::Begin("notice", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoNav |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoFocusOnAppearing);
    const bool trouble = notice.kind == Notice::Kind::trouble;
    if (notice.kind == Notice::Kind::refusal) ui.say("That may not be:", Ink::care);
    ui.say(notice.text, trouble ? Ink::stop : Ink::plain);
    if (notice.kind != Notice::Kind::word && ui.button("Close")) desk.wish(CloseNotice{});
    end_over_scene(ui);
    ImGui::PopStyleVar(2);
}

void draw_reading(Ui& ui, Desk& desk, const Layout& layout) {
    if (desk.reading().empty()) return;
    const Area& scene = layout.scene;
    ImGui::SetNextWindowPos(corner(scene.x + scene.width / 2, scene.y + scene.height / 2), ImGuiCond_Always,
                            {0.5F, 0.5F});
    ImGui::SetNextWindowSize({ui.px(380), 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, ui.px(6));
    ImGui::Begin("reading", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    const auto [share, what] = desk.reading_progress();
    ui.say(desk.reading(), Ink::strong);
    ui.say_small(what.empty() ? "reading …" : what + " …");
    draw_progress(ui, share);
    if (ui.button("Cancel")) desk.wish(CancelReading{});
    end_over_scene(ui);
    ImGui::PopStyleVar();
}

}  // namespace

const std::vector<KeyHelp>& key_help() {
    static const std::vector<KeyHelp> keys = {
        {"Drag", "on empty space: look round; on a handle: move what it belongs to"},
        {"Right or middle drag", "shift the view"},
        {"Wheel", "nearer, farther"},
        {"Click", "choose; on a finding: look there"},
        {"Tab, Shift Tab", "choose the next, the one before"},
        {"← →", "slide what is chosen by 1 mm; with Shift 10 mm"},
        {"↑ ↓", "turn it by 1°; with Shift 15°"},
        {"Alt and arrows", "shift the rod line by 1 mm; with Shift 5 mm"},
        {"Shift while dragging", "no snapping to whole millimetres and degrees"},
        {"Del", "take the chosen counterweight away"},
        {"Ctrl Z, Ctrl Y", "undo, do again"},
        {"P", "pin this state to compare with; again: unpin"},
        {"Space", "turn, stop"},
        {", .", "turn by hand"},
        {"1 … 7", "home, front, back, drive end, point end, above, below"},
        {"F", "everything into view"},
        {"Page up, Page down, + −", "look round, nearer, farther"},
        {"X, E, C", "inside, sweep, cooker"},
        {"G, L, T, N", "findings, places, figures, plan"},
        {"U", "metric or US units"},
        {"Ctrl O, S, Shift S", "open, save, save as"},
        {"F5", "read the file again"},
        {"Ctrl Q", "leave"},
        {"F1, ?", "this page"},
    };
    return keys;
}

void draw_panels(Ui& ui, Desk& desk, const Layout& layout, PanelState& state) {
    draw_bar(ui, desk, layout);
    draw_turn(ui, desk, layout);
    draw_chart_strip(ui, desk, layout);
    draw_side(ui, desk, layout);
    draw_hints(ui, desk, layout);
    draw_notice(ui, desk, layout);
    draw_reading(ui, desk, layout);
    draw_dialog(ui, desk, state);
}

}  // namespace evenspit::viewer
