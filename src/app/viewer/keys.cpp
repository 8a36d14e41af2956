// SPDX-License-Identifier: MIT
#include "app/viewer/keys.h"

#include <numbers>

#include <fmt/format.h>

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

constexpr double degree = pi / 180;

/// By how much keys move things: round figures in the reader's units.
struct Steps {
    double step_m, long_step_m, long_line_step_m;
    const char *step_words, *long_words, *long_line_words, *snap_words;
};

const Steps& steps_of(UnitSystem units) {
    constexpr double inch = 0.0254;
    static constexpr Steps metric{0.001, 0.010, 0.005, "1 mm", "10 mm", "5 mm", "whole millimetres"};
    static constexpr Steps us{
        inch / 32, inch / 2, inch / 4, "1/32 in", "1/2 in", "1/4 in", "thirty-seconds of an inch"};
    return units == UnitSystem::us ? us : metric;
}

constexpr double step_rad = 1 * degree, long_step_rad = 15 * degree;
constexpr double turn_step_rad = 5 * degree;
constexpr double look_step_rad = 0.15;

std::optional<Wish> wish_with_control(Key key, bool shift) {
    switch (key) {
        case Key::z:
            return shift ? Wish(Redo{}) : Wish(Undo{});
        case Key::y:
            return Redo{};
        case Key::n:
            return ShowDialog{Dialog::new_load};
        case Key::o:
            return ShowDialog{Dialog::open};
        case Key::s:
            return shift ? Wish(ShowDialog{Dialog::save_as}) : Wish(Save{});
        case Key::p:
            return SavePicture{};
        case Key::k:
            return ShowDialog{Dialog::card};
        case Key::q:
            return Quit{};
        default:
            return std::nullopt;
    }
}

/// Arrows move what is chosen; with Alt they shift the rod line in it.
std::optional<Wish> wish_to_move(Key key, const Modifiers& held, const Steps& steps) {
    const double along = held.shift ? steps.long_step_m : steps.step_m;
    const double round = held.shift ? long_step_rad : step_rad;
    const double line = held.shift ? steps.long_line_step_m : steps.step_m;
    switch (key) {
        case Key::left:
            return held.alt ? Nudge{.line_m = {-line, 0}} : Nudge{.along_m = -along};
        case Key::right:
            return held.alt ? Nudge{.line_m = {line, 0}} : Nudge{.along_m = along};
        case Key::up:
            return held.alt ? Nudge{.line_m = {0, line}} : Nudge{.round_rad = round};
        case Key::down:
            return held.alt ? Nudge{.line_m = {0, -line}} : Nudge{.round_rad = -round};
        default:
            return std::nullopt;
    }
}

/// Keys that change how the load is looked at and what the side shows.
std::optional<Wish> wish_to_look(Key key, const Desk& desk) {
    if (key >= Key::num_1 && key <= Key::num_7)
        return LookFrom{static_cast<StandardView>(static_cast<int>(key) - static_cast<int>(Key::num_1))};
    switch (key) {
        case Key::f:
            return FrameAll{};
        case Key::page_up:
            return Orbit{look_step_rad, 0};
        case Key::page_down:
            return Orbit{-look_step_rad, 0};
        case Key::plus:
            return Zoom{1, desk.camera().target()};
        case Key::minus:
            return Zoom{-1, desk.camera().target()};
        case Key::x:
            return ToggleSkin{};
        case Key::e:
            return ToggleEnvelope{};
        case Key::c:
            return ToggleCooker{};
        case Key::w:
            return ToggleGaps{};
        case Key::v:
            return ShowColours{desk.colouring() == Colouring::none ? Colouring::radius : Colouring::none};
        case Key::g:
            return ShowTab{Tab::findings};
        case Key::l:
            return ShowTab{Tab::places};
        case Key::t:
            return ShowTab{Tab::figures};
        case Key::n:
            return ShowTab{Tab::plan};
        case Key::r:
            return ShowTab{Tab::roll};
        case Key::o:
            return ShowTab{Tab::cook};
        case Key::u:
            return SetUnits{desk.settings().units == UnitSystem::us ? UnitSystem::metric : UnitSystem::us};
        case Key::k:
            return NextSection{};
        case Key::d:
            return SetTheme{desk.settings().theme == Theme::dark ? Theme::light : Theme::dark};
        case Key::f1:
            return ShowDialog{Dialog::help};
        default:
            return std::nullopt;
    }
}

/// Keys that do something to what is chosen, to the load, or to its turning.
std::optional<Wish> wish_to_act(const KeyPressed& key, const Desk& desk) {
    switch (key.key) {
        case Key::tab:
            return SelectNext{key.modifiers.shift ? -1 : 1};
        case Key::del:
            if (desk.selected().kind != Thing::Kind::counterweight) return std::nullopt;
            return DoEdit{RemoveWeight{desk.selected().index}, ""};
        case Key::escape:
            if (desk.tape().on()) return ToggleTape{};
            return desk.reading().empty() ? Wish(Select{}) : Wish(CancelReading{});
        case Key::p:
            if (!desk.has_load()) return std::nullopt;
            return desk.session().pinned() ? Wish(Unpin{}) : Wish(Pin{});
        case Key::h:
            if (key.modifiers.shift) return ShowAllThings{};
            if (!movable(desk.selected())) return std::nullopt;
            return ToggleThing{desk.selected()};
        case Key::m:
            return ToggleCloud{};
        case Key::a:
            return ToggleTape{};
        case Key::space:
            return Play{!desk.turn().playing};
        case Key::comma:
            return key.modifiers.shift ? Wish(StepMoment{-1})
                                       : Wish(SetTurn{desk.turn().angle_rad - turn_step_rad});
        case Key::period:
            return key.modifiers.shift ? Wish(StepMoment{1})
                                       : Wish(SetTurn{desk.turn().angle_rad + turn_step_rad});
        case Key::f5:
            return Reload{};
        default:
            return std::nullopt;
    }
}

}  // namespace

std::optional<Wish> wish_of(const KeyPressed& key, const Desk& desk) {
    if (desk.dialog() != Dialog::none)
        return key.key == Key::escape ? std::optional<Wish>(AnswerDialog{}) : std::nullopt;
    if (key.modifiers.control) return wish_with_control(key.key, key.modifiers.shift);
    if (auto wish = wish_to_move(key.key, key.modifiers, steps_of(desk.settings().units))) return wish;
    if (auto wish = wish_to_act(key, desk)) return wish;
    return wish_to_look(key.key, desk);
}

Key key_of_name(std::string_view name) {
    if (name.size() != 1) return Key::unknown;
    const char letter = name.front();
    if (letter >= 'a' && letter <= 'z') return static_cast<Key>(static_cast<int>(Key::a) + letter - 'a');
    if (letter >= 'A' && letter <= 'Z') return static_cast<Key>(static_cast<int>(Key::a) + letter - 'A');
    switch (letter) {
        case '+':
        case '=':
            return Key::plus;
        case '-':
            return Key::minus;
        case ',':
            return Key::comma;
        case '.':
            return Key::period;
        default:
            return Key::unknown;
    }
}

std::vector<KeyHelp> key_help(UnitSystem units) {
    const Steps& steps = steps_of(units);
    return {
        {"Drag", "on empty space: look round; on a handle: move what it belongs to"},
        {"Right or middle drag", "shift the view"},
        {"Wheel", "nearer, farther"},
        {"Click", "choose; on a finding: look there"},
        {"Tab, Shift Tab", "choose the next, the one before"},
        {"← →", fmt::format("slide what is chosen by {}; with Shift {}", steps.step_words, steps.long_words)},
        {"↑ ↓", "turn it by 1°; with Shift 15°"},
        {"Alt and arrows",
         fmt::format("shift the rod line by {}; with Shift {}", steps.step_words, steps.long_line_words)},
        {"Shift while dragging", fmt::format("no snapping to {} and degrees", steps.snap_words)},
        {"Del", "take the chosen counterweight away"},
        {"Ctrl Z, Ctrl Y", "undo, do again"},
        {"P", "pin this state to compare with; again: unpin"},
        {"Space", "turn, stop"},
        {", .", "turn by hand"},
        {"Shift , .", "earlier, later in the cook"},
        {"1 … 7", "home, front, back, drive end, point end, above, below"},
        {"F", "everything into view"},
        {"Page up, Page down, + −", "look round, nearer, farther"},
        {"X, E, C, V", "inside, sweep, cooker, colours by distance from the rod"},
        {"G, L, T, N, R, O", "findings, places, figures, plan, roll test, cook"},
        {"K", "cut open across the rod, along it, not at all; drag its handle"},
        {"H, Shift H", "hide or show what is chosen; show everything"},
        {"W", "every gap to the walls, or the tightest alone"},
        {"A", "measure: click two places; again or Esc: put the tape away"},
        {"M", "mountings: where the rod may really lie"},
        {"U", "metric or US units"},
        {"D", "light or dark"},
        {"Ctrl N, O, S, Shift S", "new, open, save, save as"},
        {"Ctrl K", "write the card"},
        {"Ctrl P", "save a picture of the scene beside the load"},
        {"Double click", "look at that place"},
        {"F5", "read the file again"},
        {"F6", "to the panels and back; there Tab, arrows, Enter"},
        {"Ctrl Q", "leave"},
        {"F1, ?", "this page"},
    };
}

}  // namespace evenspit::viewer
