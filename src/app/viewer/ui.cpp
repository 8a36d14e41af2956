// SPDX-License-Identifier: MIT
#include "app/viewer/ui.h"

#include <algorithm>
#include <array>
#include <cfloat>
#include <cmath>
#include <filesystem>
#include <imgui_internal.h>
#include <utility>
#include <variant>

#include <fmt/format.h>

namespace evenspit::viewer {
namespace {

constexpr double regular_pt = 14;
constexpr double small_pt = 12;
constexpr double large_pt = 21;

// Latin, Greek and Cyrillic, in which names of loads and files are written, and the signs of the panels.
constexpr std::array<ImWchar, 19> letters_used = {0x20,   0x24f,  0x370,  0x3ff,  0x400,  0x52f,  0x1e00,
                                                  0x1eff, 0x2010, 0x2027, 0x2030, 0x203a, 0x2190, 0x22ff,
                                                  0x25a0, 0x25ff, 0x2600, 0x27bf, 0};

ImVec4 as_vector(Rgb c, float opacity = 1) {
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
    void operator()(const PointerLeft& /*e*/) const { io.MousePos = {-FLT_MAX, -FLT_MAX}; }
    void operator()(const FilesDropped& /*e*/) const {}
    void operator()(const CloseAsked& /*e*/) const {}
    void operator()(const Exposed& /*e*/) const {}
};

}  // namespace

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

void Ui::set_theme(Theme theme) {
    if (theme == theme_) return;
    theme_ = theme;
    style();
}

ImU32 Ui::colour(Ink ink, double opacity) const {
    const Rgb c = viewer::colour(ink, theme_);
    return IM_COL32(c.r, c.g, c.b, static_cast<int>(std::lround(255 * std::clamp(opacity, 0.0, 1.0))));
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
        ImFontConfig config;
        // On dense displays letters need no finer steps between pixels.
        config.OversampleH = scale_ >= 1.5 ? 1 : 2;
        if (there) return atlas.AddFontFromFileTTF(file, size, &config, letters_used.data());
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
    style.DisabledAlpha = 1;  // what cannot be pressed is told in faint letters that can still be read
    style.FrameBorderSize = std::max(1.0F, std::floor(static_cast<float>(scale_)));
    const auto set = [&](ImGuiCol_ what, Ink ink, float opacity = 1) {
        style.Colors[what] = as_vector(viewer::colour(ink, theme_), opacity);
    };
    set(ImGuiCol_Text, Ink::plain);
    set(ImGuiCol_TextDisabled, Ink::faint);
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

// --- a frame ---

void Ui::take(const Event& event) {
    later_.push_back(event);
}

bool Ui::takes(const KeyPressed& key) const {
    if (typing() || key.key == Key::f6) return true;
    if (key.modifiers.control || key.modifiers.alt || !focus_.has_keys()) return false;
    switch (key.key) {
        case Key::tab:
        case Key::left:
        case Key::right:
        case Key::up:
        case Key::down:
        case Key::enter:
        case Key::space:
            return true;
        case Key::escape:
            return !focus_.in_dialog();
        default:
            return false;
    }
}

/// Moves the focus; false if the key means something to the library of the panels.
bool Ui::key_event(const KeyPressed& key) {
    if (key.modifiers.control || key.modifiers.alt) return false;
    // A key that went down in a field is let go after the field was left: else it would stay down for good.
    if (!key.down && key.key != Key::escape) return false;
    const bool own = focus_.has_keys();
    switch (key.key) {
        case Key::f6:
            if (key.down) focus_.swap();
            return true;
        case Key::tab:
            if (!own && !typing()) return true;
            if (!key.down) return true;
            if (typing()) {
                left_ = draft_;
                ImGui::ClearActiveID();
            }
            focus_.step(key.modifiers.shift ? -1 : 1);
            return true;
        case Key::left:
        case Key::right:
        case Key::up:
        case Key::down:
            if (typing() || !own) return false;
            if (key.down)
                focus_.go(key.key == Key::left    ? FocusRing::Way::left
                          : key.key == Key::right ? FocusRing::Way::right
                          : key.key == Key::up    ? FocusRing::Way::up
                                                  : FocusRing::Way::down);
            return true;
        case Key::enter:
        case Key::space:
            if (typing() || !own) return false;
            if (key.down) pressed_ = focus_.focused();
            return true;
        case Key::escape:
            if (typing()) return false;
            escaped_ = key.down;
            if (key.down) focus_.leave();
            return true;
        default:
            return false;
    }
}

void Ui::frame(Extent size, double seconds) {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    focus_.begin_frame();
    pressed_ = 0;
    escaped_ = false;
    left_ = {};
    // A press and its release within one frame would go unseen: what follows a change of a button waits.
    std::vector<Event> waiting;
    bool changed = false;
    for (const Event& event : std::exchange(later_, {})) {
        const auto* key = std::get_if<KeyPressed>(&event);
        const bool button = std::holds_alternative<MousePressed>(event) || key != nullptr;
        const bool moved = std::holds_alternative<MouseMoved>(event);
        if (!waiting.empty() || (changed && (button || moved))) {
            waiting.push_back(event);
            continue;
        }
        changed = changed || button;
        if (key != nullptr && key_event(*key)) continue;
        if (const auto* press = std::get_if<MousePressed>(&event); press != nullptr && press->down)
            focus_.point(0);
        std::visit(Feeder{io}, event);
    }
    later_ = std::move(waiting);
    io.DisplaySize = {static_cast<float>(size.width), static_cast<float>(size.height)};
    io.DeltaTime = static_cast<float>(std::clamp(seconds, 1e-4, 1.0));
    ImGui::NewFrame();
    if (pressed_area_ && !pressed_area_->contains(io.MousePos.x, io.MousePos.y)) pressed_area_.reset();
    ImGui::PushFont(regular_);
    spoken_.clear();
    written_.clear();
    covered_ = std::exchange(covers_, {});
    for (const Area& area : std::exchange(in_scene_, {})) covered_.push_back(area);
    trouble_.clear();
    layer_ = Layer::panels;
}

void Ui::end() {
    ImGui::PopFont();
    ImGui::Render();
}

bool Ui::covers(double x, double y) const {
    const auto holds = [&](const Area& area) { return area.contains(x, y); };
    return panel_covers(x, y) || std::any_of(in_scene_.begin(), in_scene_.end(), holds);
}

bool Ui::panel_covers(double x, double y) const {
    return std::any_of(covers_.begin(), covers_.end(), [&](const Area& area) { return area.contains(x, y); });
}

bool Ui::typing() const {
    return ImGui::GetIO().WantTextInput;
}

}  // namespace evenspit::viewer
