// SPDX-License-Identifier: MIT
#pragma once

#include <imgui.h>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/analysis.h"
#include "app/viewer/camera.h"
#include "app/viewer/window_system.h"
#include "units/quantity.h"

namespace evenspit::viewer {

/// What letters and lines are drawn with. Levels never go by colour alone: a word or a shape stands beside
/// it.
enum class Ink { plain, faint, strong, accent, ready, care, stop, pinned, paper, veil, line };

ImU32 colour_of(Ink ink, double opacity = 1);
Ink ink_of(Level level);

/// Something that stands on the screen in letters, and where.
struct Spoken {
    std::string text;
    Area area;
    bool usable = false;  ///< can be pressed or typed into
};

/// One frame's worth of panels: thin words for the few things that the panels need, all of which are noted
/// down, so that a test can read the screen and press what it finds there.
class Ui {
  public:
    /// \param scale pixels per point
    explicit Ui(double scale);
    Ui(const Ui&) = delete;
    Ui& operator=(const Ui&) = delete;
    ~Ui();

    /// Letters of another size from the next frame on.
    void set_scale(double scale);
    /// Takes an event; what it means is known after the next frame().
    void take(const Event& event);
    /// Whether events were taken that the next frame has to see.
    [[nodiscard]] bool has_events_waiting() const { return !later_.empty(); }
    /// What is copied and pasted goes through this system from now on; it must outlive the panels.
    void use_clipboard(WindowSystem& system);
    /// Whether letters must be made anew before the next frame, and making them.
    [[nodiscard]] bool letters_are_stale() const { return fonts_stale_; }
    void make_letters();
    void frame(Extent size, double seconds);
    /// Ends the frame; what was drawn is in ImGui::GetDrawData().
    void end();

    /// Notes that a panel lies over the scene there, in this frame.
    void cover(const Area& area) { covers_.push_back(area); }
    /// Whether a panel lay over that place in the last frame.
    [[nodiscard]] bool covers(double x, double y) const;
    /// Whether a text is being typed.
    [[nodiscard]] bool typing() const;

    [[nodiscard]] double scale() const { return scale_; }
    /// A measure in points, in pixels.
    [[nodiscard]] float px(double points) const { return static_cast<float>(points * scale_); }
    [[nodiscard]] ImFont* regular() const { return regular_; }
    [[nodiscard]] ImFont* small() const { return small_; }
    [[nodiscard]] ImFont* large() const { return large_; }

    // --- words ---
    void say(std::string_view text, Ink ink = Ink::plain);
    void say_small(std::string_view text, Ink ink = Ink::faint);
    void heading(std::string_view text);
    bool button(const std::string& name, bool usable = true, const std::string& hint = {});
    /// A button that shows whether something is on.
    bool toggle(const std::string& name, bool on, const std::string& hint = {});
    /// A row that can be chosen.
    bool row(const std::string& name, bool chosen);
    /// A quantity to be typed with its unit. Returns what was typed and confirmed; what cannot be understood
    /// is told in trouble().
    std::optional<double> quantity(const std::string& name, double si, Dimension dimension, UnitSystem units);
    /// A line of text; true when confirmed.
    bool text(const std::string& name, std::string& value);
    /// What was wrong with something typed in this frame, "" for nothing.
    [[nodiscard]] const std::string& trouble() const { return trouble_; }
    /// Notes a text that was drawn by other means.
    void note(std::string_view text, const Area& area, bool usable = false);
    /// Draws letters at a place and notes them.
    void letters(ImDrawList& list, ImFont* font, double x, double y, std::string_view text, Ink ink,
                 double opacity = 1);
    [[nodiscard]] ImVec2 size_of(ImFont* font, std::string_view text) const;

    [[nodiscard]] const std::vector<Spoken>& spoken() const { return spoken_; }

  private:
    void style() const;
    void note_last(std::string_view text, bool usable);

    ImGuiContext* context_;
    double scale_;
    bool fonts_stale_ = true;
    ImFont *regular_ = nullptr, *small_ = nullptr, *large_ = nullptr;
    std::vector<Spoken> spoken_;
    std::vector<Area> covers_;
    std::string trouble_;
    WindowSystem* system_ = nullptr;
    std::string clipboard_;
    std::vector<Event>
        later_;  // of a button that goes down and up within one frame, the rest comes in the next
};

}  // namespace evenspit::viewer
