// SPDX-License-Identifier: MIT
// The controls and the letters of the panels.
#include <algorithm>
#include <cmath>
#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <fmt/format.h>

#include "app/viewer/ui.h"
#include "report/text_layout.h"
#include "units/dial.h"

namespace evenspit::viewer {
namespace {

constexpr double widest_hint_pt = 320;
constexpr double label_pt = 112, field_pt = 124;

Area area_of(ImVec2 min, ImVec2 max) {
    return {min.x, min.y, max.x - min.x, max.y - min.y};
}

Area last_item() {
    return area_of(ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
}

Area within(const Area& a, const Area& b) {
    const double x = std::max(a.x, b.x), y = std::max(a.y, b.y);
    return {x, y, std::max(0.0, std::min(a.x + a.width, b.x + b.width) - x),
            std::max(0.0, std::min(a.y + a.height, b.y + b.height) - y)};
}

Area clip_of(const ImDrawList& list) {
    return area_of(list.GetClipRectMin(), list.GetClipRectMax());
}

std::string shown_name(const std::string& name) {
    return name.substr(0, name.find("##"));
}

}  // namespace

void Ui::note(std::string_view text, const Area& area, bool usable) {
    spoken_.push_back({std::string(text), area, usable});
}

void Ui::note_last(std::string_view text, bool usable) {
    note(text, last_item(), usable);
}

void Ui::wrote(std::string_view text, const Area& area, const Area& seen, ImU32 ink) {
    if (text.empty()) return;
    const auto part = [ink](int shift) { return static_cast<int>((ink >> shift) & 0xFF); };
    const ImGuiWindow* window = ImGui::GetCurrentWindowRead();
    const bool scrolls = window != nullptr && layer_ != Layer::scene && window->ScrollMax.y > 0;
    written_.push_back({std::string(text),
                        area,
                        seen,
                        scrolls,
                        layer_,
                        {part(IM_COL32_R_SHIFT), part(IM_COL32_G_SHIFT), part(IM_COL32_B_SHIFT)}});
}

std::string Ui::in_lines(ImFont* font, std::string_view text, float width) const {
    const MeasureText measure = [&](std::string_view piece) -> double { return size_of(font, piece).x; };
    std::string lines;
    while (true) {
        const std::size_t end = text.find('\n');
        const std::string_view paragraph = text.substr(0, end);
        for (const std::string& line : wrapped(paragraph, width, measure)) {
            if (!lines.empty()) lines += '\n';
            lines += line;
        }
        if (end == std::string_view::npos) return lines;
        text.remove_prefix(end + 1);
    }
}

void Ui::say(std::string_view text, Ink ink, float width) {
    const float room = ImGui::GetContentRegionAvail().x;
    const std::string lines =
        in_lines(ImGui::GetFont(), text, std::max(1.0F, width > 0 ? std::min(width, room) : room));
    ImGui::PushStyleColor(ImGuiCol_Text, colour(ink));
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopStyleColor();
    note_last(text, false);
    wrote(text, last_item(), clip_of(*ImGui::GetWindowDrawList()), colour(ink));
}

void Ui::say_small(std::string_view text, Ink ink, float width) {
    ImGui::PushFont(small_);
    say(text, ink, width);
    ImGui::PopFont();
}

void Ui::heading(std::string_view text) {
    ImGui::Dummy({0, px(2)});
    say(text, Ink::accent);
    const ImVec2 at = ImGui::GetItemRectMin();
    const float y = ImGui::GetItemRectMax().y + px(1);
    ImGui::GetWindowDrawList()->AddLine({at.x, y}, {at.x + ImGui::GetContentRegionAvail().x, y},
                                        colour(Ink::accent, 0.35), px(1));
    ImGui::Dummy({0, px(1)});
}

void Ui::hint(const std::string& words) {
    if (words.empty() || !ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
    if (ImGui::IsMouseDown(ImGuiMouseButton_Left)) pressed_area_ = last_item();
    if (pressed_area_) return;
    const float width =
        std::min(px(widest_hint_pt), ImGui::GetIO().DisplaySize.x - 2 * ImGui::GetStyle().WindowPadding.x);
    const std::string lines = in_lines(small_, words, width);
    const Layer below = layer_;
    layer_ = Layer::hint;
    ImGui::BeginTooltip();
    ImGui::PushFont(small_);
    ImGui::TextUnformatted(lines.c_str());
    note_last(words, false);
    wrote(words, last_item(), clip_of(*ImGui::GetWindowDrawList()), colour(Ink::plain));
    ImGui::PopFont();
    ImGui::EndTooltip();
    layer_ = below;
}

bool Ui::control(bool text, bool asked) {
    const FocusRing::Id id = ImGui::GetItemID();
    focus_.add({id, last_item(), layer_, text, asked});
    if (focus_.focused() != id || id == 0) return false;
    if (focus_.has_come_to(id) && focus_.is_shown()) ImGui::SetScrollHereY(0.5F);
    if (focus_.is_shown()) {
        const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
        const float off = px(2);
        ImGui::GetWindowDrawList()->AddRect({min.x - off, min.y - off}, {max.x + off, max.y + off},
                                            colour(Ink::accent), px(5), 0, px(2));
    }
    return pressed_ == id;
}

float Ui::room_for(std::initializer_list<std::string_view> names) const {
    float width = 0;
    for (const std::string_view name : names)
        width = std::max(width, size_of(ImGui::GetFont(), name.substr(0, name.find("##"))).x);
    return width + 2 * ImGui::GetStyle().FramePadding.x;
}

void Ui::beside(float width, double gap_pt) {
    const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + px(gap_pt) + width <= end) ImGui::SameLine(0, px(gap_pt));
}

bool Ui::button(const std::string& name, bool usable, const std::string& hint_words, float width) {
    ImGui::BeginDisabled(!usable);
    if (!usable) ImGui::PushStyleColor(ImGuiCol_Text, colour(Ink::faint));
    bool pressed = ImGui::Button(name.c_str(), {width, 0});
    const ImU32 ink = ImGui::GetColorU32(ImGuiCol_Text);
    if (!usable) ImGui::PopStyleColor();
    ImGui::EndDisabled();
    const std::string shown = shown_name(name);
    note_last(shown, usable);
    const Area frame = last_item();
    const ImVec2 size = size_of(ImGui::GetFont(), shown);
    wrote(shown,
          {frame.x + (frame.width - size.x) / 2, frame.y + (frame.height - size.y) / 2, size.x, size.y},
          within(frame, clip_of(*ImGui::GetWindowDrawList())), ink);
    if (usable && control(false)) pressed = true;
    hint(hint_words);
    return pressed;
}

bool Ui::toggle(const std::string& name, bool on, const std::string& hint_words, bool usable, float width) {
    if (on) {
        ImGui::PushStyleColor(ImGuiCol_Button, colour(Ink::accent));
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, colour(Ink::accent));
        ImGui::PushStyleColor(ImGuiCol_ButtonActive, colour(Ink::accent));
        ImGui::PushStyleColor(ImGuiCol_Text, colour(Ink::paper));
    }
    const bool pressed = button(name, usable, hint_words, width);
    if (on) ImGui::PopStyleColor(4);
    return pressed;
}

bool Ui::row(const std::string& name, bool chosen, float inset) {
    const std::string shown = shown_name(name);
    const float width = ImGui::GetContentRegionAvail().x;
    ImFont* const font = ImGui::GetFont();
    const std::string lines = in_lines(font, shown, std::max(1.0F, width - inset));
    const float height = size_of(font, lines).y;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::PushID(name.c_str());
    bool pressed = ImGui::Selectable("##row", chosen, 0, {width, height});
    ImGui::PopID();
    note_last(shown, true);
    if (control(false)) pressed = true;
    paragraph(*ImGui::GetWindowDrawList(), font, {at.x + inset, at.y}, width - inset, shown, Ink::plain,
              false);
    return pressed;
}

bool Ui::pressed(const std::string& id, ImVec2 size, std::string_view name) {
    const bool pressed = ImGui::InvisibleButton(id.c_str(), size);
    note_last(name, true);
    return control(false) || pressed;
}

std::optional<double> Ui::quantity(const std::string& name, double si, Dimension dimension,
                                   UnitSystem units) {
    const std::string shown = format_quantity(std::abs(si) < 1e-9 ? 0 : si, dimension, units, 4);
    std::string typed = shown;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(name.c_str());
    wrote(name, last_item(), clip_of(*ImGui::GetWindowDrawList()), colour(Ink::plain));
    ImGui::SameLine(px(label_pt));
    ImGui::SetNextItemWidth(px(field_pt));
    const std::string id = "##" + name;
    if (focus_.has_come_to(ImGui::GetID(id.c_str())) && focus_.is_shown()) ImGui::SetKeyboardFocusHere();
    bool confirmed = ImGui::InputText(
        id.c_str(), &typed, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
    const FocusRing::Id own = ImGui::GetItemID();
    if (ImGui::IsItemActive()) {
        draft_ = {own, typed};
        if (focus_.focused() != own) focus_.point(own);
    }
    note_last(name, true);
    note_last(shown, false);
    const Area frame = last_item();
    const ImVec2 size = size_of(ImGui::GetFont(), shown), pad = ImGui::GetStyle().FramePadding;
    wrote(shown, {frame.x + pad.x, frame.y + pad.y, size.x, size.y},
          within(frame, clip_of(*ImGui::GetWindowDrawList())), colour(Ink::plain));
    control(true);
    if (left_.field == own) {
        confirmed = true;
        typed = left_.text;
    }
    if (!confirmed || typed == shown) return std::nullopt;
    try {
        return parse_quantity(typed, dimension);
    } catch (const QuantityError& error) {
        trouble_ =
            fmt::format("{}: found {}; expected {}; {}", name, error.found(), error.expected(), error.mend());
        return std::nullopt;
    }
}

bool Ui::text(const std::string& name, std::string& value, bool asked) {
    const std::string id = "##" + name;
    if (focus_.has_come_to(ImGui::GetID(id.c_str())) && focus_.is_shown()) ImGui::SetKeyboardFocusHere();
    const bool confirmed = ImGui::InputText(
        id.c_str(), &value, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
    const FocusRing::Id own = ImGui::GetItemID();
    if (ImGui::IsItemActive() && focus_.focused() != own) focus_.point(own);
    note_last(name, true);
    note_last(value, false);
    control(true, asked);
    return confirmed;
}

std::optional<double> Ui::angle_slider(double degrees, float width) {
    auto value = static_cast<float>(degrees);
    ImGui::SetNextItemWidth(width);
    const bool pulled = ImGui::SliderFloat("##angle", &value, 0, 359, "at %.0f°");
    const std::string words = fmt::format("at {:.0f}°", value);
    note_last(words, true);
    const Area frame = last_item();
    const ImVec2 size = size_of(ImGui::GetFont(), words);
    wrote(words,
          {frame.x + (frame.width - size.x) / 2, frame.y + (frame.height - size.y) / 2, size.x, size.y},
          within(frame, clip_of(*ImGui::GetWindowDrawList())), colour(Ink::plain));
    return pulled ? std::optional<double>(value) : std::nullopt;
}

std::optional<double> Ui::slider(const std::string& name, double share, const std::string& words,
                                 const std::vector<SliderMark>& marks, float width) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float high = px(30), knob = px(7), line = at.y + px(18);
    const float from = at.x + knob, run = std::max(1.0F, width - 2 * knob);
    ImGui::InvisibleButton(name.c_str(), {width, high});
    const bool held = ImGui::IsItemActive();
    const bool hovered = ImGui::IsItemHovered();
    note_last(name, true);
    note(words, last_item());
    control(false);
    const auto x = [&](double of) { return from + run * static_cast<float>(std::clamp(of, 0.0, 1.0)); };
    list.AddRectFilled({from, line - px(2)}, {from + run, line + px(2)}, colour(Ink::line), px(2));
    list.AddRectFilled({from, line - px(2)}, {x(share), line + px(2)}, colour(Ink::accent), px(2));
    for (const SliderMark& mark : marks) {
        const float place = x(mark.share);
        if (mark.strong) {
            list.AddTriangleFilled({place - px(5), line - px(16)}, {place + px(5), line - px(16)},
                                   {place, line - px(7)}, colour(mark.ink));
        } else {
            list.AddLine({place, line - px(7)}, {place, line + px(7)}, colour(mark.ink), px(1.5));
        }
    }
    list.AddCircleFilled({x(share), line}, knob, colour(held || hovered ? Ink::strong : Ink::accent), 24);
    list.AddCircleFilled({x(share), line}, knob * 0.45F, colour(Ink::paper), 20);
    if (!held) return std::nullopt;
    return std::clamp(static_cast<double>((ImGui::GetIO().MousePos.x - from) / run), 0.0, 1.0);
}

ImVec2 Ui::size_of(ImFont* font, std::string_view text) const {
    return font->CalcTextSizeA(font->FontSize, 1e6F, 0, text.data(), text.data() + text.size());
}

void Ui::letters(ImDrawList& list, ImFont* font, double x, double y, std::string_view text, Ink ink) {
    const ImVec2 at(std::floor(static_cast<float>(x)), std::floor(static_cast<float>(y)));
    list.AddText(font, font->FontSize, at, colour(ink), text.data(), text.data() + text.size());
    const ImVec2 size = size_of(font, text);
    const Area area{at.x, at.y, size.x, size.y};
    note(text, area);
    wrote(text, area, clip_of(list), colour(ink));
}

float Ui::paragraph(ImDrawList& list, ImFont* font, ImVec2 at, float width, std::string_view text, Ink ink,
                    bool spoken) {
    const std::string lines = in_lines(font, text, width);
    list.AddText(font, font->FontSize, {std::floor(at.x), std::floor(at.y)}, colour(ink), lines.c_str());
    const ImVec2 size = size_of(font, lines);
    const Area area{at.x, at.y, size.x, size.y};
    if (spoken) note(text, area);
    wrote(text, area, clip_of(list), colour(ink));
    return size.y;
}

}  // namespace evenspit::viewer
