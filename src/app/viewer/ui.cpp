// SPDX-License-Identifier: MIT
#include "app/viewer/ui.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <imgui_stdlib.h>
#include <utility>
#include <variant>

#include <fmt/format.h>

namespace evenspit::viewer {
namespace {

constexpr double regular_pt = 14;
constexpr double small_pt = 12;
constexpr double large_pt = 21;

// Letters, figures and signs that panels use.
constexpr std::array<ImWchar, 15> letters_used = {0x20,   0xff,   0x2010, 0x2027, 0x2030,
                                                  0x203a, 0x2190, 0x21ff, 0x2200, 0x22ff,
                                                  0x25a0, 0x25ff, 0x2600, 0x27bf, 0};

struct Colour {
    int r, g, b;
};

Colour colour(Ink ink) {
    // Levels after M. Okabe and K. Ito, "Color Universal Design" (2008), darkened for letters on a light
    // ground.
    switch (ink) {
        case Ink::plain:
            return {44, 42, 40};
        case Ink::faint:
            return {112, 108, 102};
        case Ink::strong:
            return {14, 13, 12};
        case Ink::accent:
            return {12, 92, 112};
        case Ink::ready:
            return {0, 114, 140};
        case Ink::care:
            return {176, 116, 0};
        case Ink::stop:
            return {186, 52, 16};
        case Ink::pinned:
            return {126, 92, 148};
        case Ink::paper:
            return {250, 249, 246};
        case Ink::veil:
            return {228, 225, 218};
        case Ink::line:
            return {196, 191, 182};
    }
    return {0, 0, 0};
}

ImVec4 as_vector(Ink ink, float opacity = 1) {
    const Colour c = colour(ink);
    return {static_cast<float>(c.r) / 255, static_cast<float>(c.g) / 255, static_cast<float>(c.b) / 255,
            opacity};
}

ImGuiKey imgui_key(Key key) {
    switch (key) {
        case Key::tab:
            return ImGuiKey_Tab;
        case Key::left:
            return ImGuiKey_LeftArrow;
        case Key::right:
            return ImGuiKey_RightArrow;
        case Key::up:
            return ImGuiKey_UpArrow;
        case Key::down:
            return ImGuiKey_DownArrow;
        case Key::page_up:
            return ImGuiKey_PageUp;
        case Key::page_down:
            return ImGuiKey_PageDown;
        case Key::home:
            return ImGuiKey_Home;
        case Key::end:
            return ImGuiKey_End;
        case Key::insert:
            return ImGuiKey_Insert;
        case Key::del:
            return ImGuiKey_Delete;
        case Key::backspace:
            return ImGuiKey_Backspace;
        case Key::space:
            return ImGuiKey_Space;
        case Key::enter:
            return ImGuiKey_Enter;
        case Key::escape:
            return ImGuiKey_Escape;
        case Key::a:
            return ImGuiKey_A;
        case Key::c:
            return ImGuiKey_C;
        case Key::v:
            return ImGuiKey_V;
        case Key::x:
            return ImGuiKey_X;
        case Key::y:
            return ImGuiKey_Y;
        case Key::z:
            return ImGuiKey_Z;
        default:
            return ImGuiKey_COUNT;
    }
}

/// Hands one event to the panels' library.
struct Feeder {
    ImGuiIO& io;

    void operator()(const MouseMoved& e) const {
        io.MousePos = {static_cast<float>(e.x), static_cast<float>(e.y)};
    }
    void operator()(const MousePressed& e) const { io.MouseDown[static_cast<int>(e.button)] = e.down; }
    void operator()(const MouseWheel& e) const {
        io.MouseWheelH += static_cast<float>(e.right);
        io.MouseWheel += static_cast<float>(e.up);
    }
    void operator()(const KeyPressed& e) const {
        io.KeysDown[static_cast<int>(e.key)] = e.down;
        io.KeyCtrl = e.modifiers.control;
        io.KeyShift = e.modifiers.shift;
        io.KeyAlt = e.modifiers.alt;
    }
    void operator()(const TextTyped& e) const { io.AddInputCharacter(e.character); }
    void operator()(const FilesDropped& /*e*/) const {}
    void operator()(const CloseAsked& /*e*/) const {}
    void operator()(const Exposed& /*e*/) const {}
};

}  // namespace

ImU32 colour_of(Ink ink, double opacity) {
    const Colour c = colour(ink);
    return IM_COL32(c.r, c.g, c.b, static_cast<int>(std::lround(255 * std::clamp(opacity, 0.0, 1.0))));
}

Ink ink_of(Level level) {
    return level == Level::stop ? Ink::stop : level == Level::care ? Ink::care : Ink::ready;
}

Ui::Ui(double scale) : context_(ImGui::CreateContext()), scale_(scale) {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;  // what is remembered is remembered elsewhere
    io.LogFilename = nullptr;
    for (int key = 0; key < static_cast<int>(Key::count); ++key) {
        const ImGuiKey known = imgui_key(static_cast<Key>(key));
        if (known != ImGuiKey_COUNT) io.KeyMap[known] = key;
    }
}

Ui::~Ui() {
    ImGui::DestroyContext(context_);
}

void Ui::set_scale(double scale) {
    if (scale == scale_) return;
    scale_ = scale;
    fonts_stale_ = true;
}

void Ui::use_clipboard(WindowSystem& system) {
    system_ = &system;
    ImGuiIO& io = ImGui::GetIO();
    io.ClipboardUserData = this;
    io.GetClipboardTextFn = [](void* own) {
        Ui& ui = *static_cast<Ui*>(own);
        ui.clipboard_ = ui.system_->clipboard();
        return ui.clipboard_.c_str();
    };
    io.SetClipboardTextFn = [](void* own, const char* text) {
        static_cast<Ui*>(own)->system_->set_clipboard(text);
    };
}

void Ui::make_letters() {
    if (!fonts_stale_) return;
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    std::error_code ignored;
    const bool have_file = std::filesystem::is_regular_file(EVENSPIT_FONT, ignored);
    const bool have_bold = std::filesystem::is_regular_file(EVENSPIT_BOLD_FONT, ignored);
    const auto make = [&](const char* file, bool there, double points) {
        const auto size = static_cast<float>(std::round(points * scale_));
        if (there) return atlas.AddFontFromFileTTF(file, size, nullptr, letters_used.data());
        ImFontConfig config;
        config.SizePixels = size;
        return atlas.AddFontDefault(&config);
    };
    regular_ = make(EVENSPIT_FONT, have_file, regular_pt);
    small_ = make(EVENSPIT_FONT, have_file, small_pt);
    large_ = make(EVENSPIT_BOLD_FONT, have_bold, large_pt);
    atlas.Build();
    style();
    fonts_stale_ = false;
}

void Ui::style() const {
    ImGuiStyle style;
    ImGui::StyleColorsLight(&style);
    style.WindowRounding = 0;
    style.ChildRounding = style.FrameRounding = style.PopupRounding = style.GrabRounding = 4;
    style.WindowBorderSize = 0;
    style.FrameBorderSize = 1;
    style.WindowPadding = {12, 10};
    style.FramePadding = {8, 4};
    style.ItemSpacing = {8, 6};
    style.ScrollbarSize = 11;
    style.ScaleAllSizes(static_cast<float>(scale_));
    style.FrameBorderSize = std::max(1.0F, std::floor(static_cast<float>(scale_)));
    const auto set = [&style](ImGuiCol_ what, Ink ink, float opacity = 1) {
        style.Colors[what] = as_vector(ink, opacity);
    };
    set(ImGuiCol_Text, Ink::plain);
    set(ImGuiCol_TextDisabled, Ink::faint, 0.75F);
    set(ImGuiCol_WindowBg, Ink::paper);
    set(ImGuiCol_ChildBg, Ink::paper, 0);
    set(ImGuiCol_PopupBg, Ink::paper);
    set(ImGuiCol_Border, Ink::line);
    set(ImGuiCol_FrameBg, Ink::veil, 0.55F);
    set(ImGuiCol_FrameBgHovered, Ink::veil);
    set(ImGuiCol_FrameBgActive, Ink::paper);
    set(ImGuiCol_Button, Ink::veil, 0.55F);
    set(ImGuiCol_ButtonHovered, Ink::line, 0.7F);
    set(ImGuiCol_ButtonActive, Ink::line);
    set(ImGuiCol_Header, Ink::accent, 0.14F);
    set(ImGuiCol_HeaderHovered, Ink::accent, 0.20F);
    set(ImGuiCol_HeaderActive, Ink::accent, 0.28F);
    set(ImGuiCol_SliderGrab, Ink::accent);
    set(ImGuiCol_SliderGrabActive, Ink::accent);
    set(ImGuiCol_Separator, Ink::line);
    set(ImGuiCol_TextSelectedBg, Ink::accent, 0.30F);
    set(ImGuiCol_NavHighlight, Ink::accent);
    set(ImGuiCol_ScrollbarBg, Ink::veil, 0.3F);
    set(ImGuiCol_ScrollbarGrab, Ink::line);
    ImGui::GetStyle() = style;
}

void Ui::take(const Event& event) {
    later_.push_back(event);
}

void Ui::frame(Extent size, double seconds) {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    // A press and its release within one frame would go unseen: what follows a change of a button waits.
    std::vector<Event> waiting;
    bool changed = false;
    for (const Event& event : std::exchange(later_, {})) {
        const bool button =
            std::holds_alternative<MousePressed>(event) || std::holds_alternative<KeyPressed>(event);
        const bool moved = std::holds_alternative<MouseMoved>(event);
        if (!waiting.empty() || (changed && (button || moved))) {
            waiting.push_back(event);
            continue;
        }
        changed = changed || button;
        std::visit(Feeder{io}, event);
    }
    later_ = std::move(waiting);
    io.DisplaySize = {static_cast<float>(size.width), static_cast<float>(size.height)};
    io.DeltaTime = static_cast<float>(std::clamp(seconds, 1e-4, 1.0));
    ImGui::NewFrame();
    ImGui::PushFont(regular_);
    spoken_.clear();
    covers_.clear();
    trouble_.clear();
}

void Ui::end() {
    ImGui::PopFont();
    ImGui::Render();
}

bool Ui::covers(double x, double y) const {
    return std::any_of(covers_.begin(), covers_.end(), [&](const Area& area) { return area.contains(x, y); });
}

bool Ui::typing() const {
    return ImGui::GetIO().WantTextInput;
}

void Ui::note(std::string_view text, const Area& area, bool usable) {
    spoken_.push_back({std::string(text), area, usable});
}

void Ui::note_last(std::string_view text, bool usable) {
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    note(text, {min.x, min.y, max.x - min.x, max.y - min.y}, usable);
}

void Ui::say(std::string_view text, Ink ink) {
    ImGui::PushStyleColor(ImGuiCol_Text, colour_of(ink));
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
    note_last(text, false);
}

void Ui::say_small(std::string_view text, Ink ink) {
    ImGui::PushFont(small_);
    say(text, ink);
    ImGui::PopFont();
}

void Ui::heading(std::string_view text) {
    ImGui::Dummy({0, px(2)});
    say(text, Ink::accent);
    const ImVec2 at = ImGui::GetItemRectMin();
    const float y = ImGui::GetItemRectMax().y + px(1);
    ImGui::GetWindowDrawList()->AddLine({at.x, y}, {at.x + ImGui::GetContentRegionAvail().x, y},
                                        colour_of(Ink::accent, 0.35), px(1));
    ImGui::Dummy({0, px(1)});
}

bool Ui::button(const std::string& name, bool usable, const std::string& hint) {
    ImGui::BeginDisabled(!usable);
    const bool pressed = ImGui::Button(name.c_str());
    ImGui::EndDisabled();
    note_last(name.substr(0, name.find("##")), usable);
    if (!hint.empty() && ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled))
        ImGui::SetTooltip("%s", hint.c_str());
    return pressed;
}

bool Ui::toggle(const std::string& name, bool on, const std::string& hint) {
    if (on) {
        ImGui::PushStyleColor(ImGuiCol_Button, colour_of(Ink::accent));
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, colour_of(Ink::accent, 0.85));
        ImGui::PushStyleColor(ImGuiCol_Text, colour_of(Ink::paper));
    }
    const bool pressed = button(name, true, hint);
    if (on) ImGui::PopStyleColor(3);
    return pressed;
}

bool Ui::row(const std::string& name, bool chosen) {
    const bool pressed = ImGui::Selectable(name.c_str(), chosen);
    note_last(name.substr(0, name.find("##")), true);
    return pressed;
}

std::optional<double> Ui::quantity(const std::string& name, double si, Dimension dimension,
                                   UnitSystem units) {
    const std::string shown = format_quantity(std::abs(si) < 1e-9 ? 0 : si, dimension, units, 4);
    std::string typed = shown;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(name.c_str());
    ImGui::SameLine(px(112));
    ImGui::SetNextItemWidth(px(124));
    const std::string id = "##" + name;
    const bool confirmed = ImGui::InputText(
        id.c_str(), &typed, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
    note_last(name, true);
    note_last(shown, false);
    if (!confirmed || typed == shown) return std::nullopt;
    try {
        return parse_quantity(typed, dimension);
    } catch (const QuantityError& error) {
        trouble_ =
            fmt::format("{}: found {}; expected {}; {}", name, error.found(), error.expected(), error.mend());
        return std::nullopt;
    }
}

bool Ui::text(const std::string& name, std::string& value) {
    const std::string id = "##" + name;
    const bool confirmed = ImGui::InputText(id.c_str(), &value, ImGuiInputTextFlags_EnterReturnsTrue);
    note_last(name, true);
    note_last(value, false);
    return confirmed;
}

ImVec2 Ui::size_of(ImFont* font, std::string_view text) const {
    return font->CalcTextSizeA(font->FontSize, 1e6F, 0, text.data(), text.data() + text.size());
}

void Ui::letters(ImDrawList& list, ImFont* font, double x, double y, std::string_view text, Ink ink,
                 double opacity) {
    const ImVec2 at(std::floor(static_cast<float>(x)), std::floor(static_cast<float>(y)));
    list.AddText(font, font->FontSize, at, colour_of(ink, opacity), text.data(), text.data() + text.size());
    const ImVec2 size = size_of(font, text);
    note(text, {at.x, at.y, size.x, size.y});
}

}  // namespace evenspit::viewer
