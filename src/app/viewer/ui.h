// SPDX-License-Identifier: MIT
#pragma once

#include <imgui.h>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/finding.h"
#include "app/viewer/camera.h"
#include "app/viewer/focus.h"
#include "app/viewer/palette.h"
#include "app/viewer/window_system.h"
#include "units/quantity.h"

namespace evenspit::viewer {

Ink ink_of(Level level);

/// Something that stands on the screen, and where.
struct Spoken {
    std::string text;
    Area area;
    bool usable = false;  ///< can be pressed or typed into
};

/// Letters as they were drawn.
struct Written {
    std::string text;
    Area area;             ///< that they take
    Area seen;             ///< within which they can be seen
    bool scrolls = false;  ///< up and down, so that they may be out of sight
    Layer layer = Layer::panels;
    Rgb ink;
};

/// A place on a slider that means something.
struct SliderMark {
    double share = 0;  ///< of its length
    Ink ink = Ink::plain;
    bool strong = false;  ///< a triangle over the line; else a stroke through it
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
    void set_theme(Theme theme);
    /// Takes an event; what it means is known after the next frame().
    void take(const Event& event);
    /// Whether events were taken that the next frame has to see.
    [[nodiscard]] bool has_events_waiting() const { return !later_.empty(); }
    /// Whether a key is for the controls, and not for the scene.
    [[nodiscard]] bool takes(const KeyPressed& key) const;
    /// What is copied and pasted goes through this system from now on; it must outlive the panels.
    void use_clipboard(WindowSystem& system);
    /// Whether letters must be made anew before the next frame, and making them.
    [[nodiscard]] bool letters_are_stale() const { return fonts_stale_; }
    void make_letters();
    void frame(Extent size, double seconds);
    /// Ends the frame; what was drawn is in ImGui::GetDrawData().
    void end();

    /// What is drawn from now on lies on that layer.
    void set_layer(Layer layer) { layer_ = layer; }
    [[nodiscard]] Layer layer() const { return layer_; }
    /// Notes that a panel lies over the scene there, in this frame.
    void cover(const Area& area) { covers_.push_back(area); }
    /// The same for what belongs to the scene and takes its own clicks: the axes in the corner.
    void cover_in_scene(const Area& area) { in_scene_.push_back(area); }
    /// Whether a panel lies there, whatever of the scene is below it.
    [[nodiscard]] bool panel_covers(double x, double y) const;
    /// Whether a panel lay over that place in the last frame.
    [[nodiscard]] bool covers(double x, double y) const;
    /// Where panels lay over the scene in the last frame.
    [[nodiscard]] const std::vector<Area>& covers() const { return covered_; }
    /// Whether Escape was pressed and no text was being typed.
    [[nodiscard]] bool escaped() const { return escaped_; }
    /// Whether a text is being typed.
    [[nodiscard]] bool typing() const;

    [[nodiscard]] double scale() const { return scale_; }
    /// A measure in points, in pixels.
    [[nodiscard]] float px(double points) const { return static_cast<float>(points * scale_); }
    [[nodiscard]] ImFont* regular() const { return regular_; }
    [[nodiscard]] ImFont* small() const { return small_; }
    [[nodiscard]] ImFont* large() const { return large_; }
    [[nodiscard]] ImU32 colour(Ink ink, double opacity = 1) const;

    // --- words ---
    /// \param width that it may take, pixels; 0: all there is
    void say(std::string_view text, Ink ink = Ink::plain, float width = 0);
    void say_small(std::string_view text, Ink ink = Ink::faint, float width = 0);
    void heading(std::string_view text);
    /// \param width pixels; 0: what its name takes
    bool button(const std::string& name, bool usable = true, const std::string& hint = {}, float width = 0);
    /// A button that shows whether something is on.
    bool toggle(const std::string& name, bool on, const std::string& hint = {}, bool usable = true,
                float width = 0);
    /// What a button takes that may have any of these names, pixels: where its name changes it keeps its
    /// room, so that nothing moves under the pointer.
    [[nodiscard]] float room_for(std::initializer_list<std::string_view> names) const;
    /// What comes next stands beside what came last if it has room there, else below.
    ///
    /// \param width of what comes next, pixels
    void beside(float width, double gap_pt = 6);
    void beside(std::string_view name, double gap_pt = 6) { beside(room_for({name}), gap_pt); }
    /// A row that can be chosen.
    ///
    /// \param inset free at its left, pixels
    bool row(const std::string& name, bool chosen, float inset = 0);
    /// A place of that size that can be pressed, drawn by whoever asks.
    bool pressed(const std::string& id, ImVec2 size, std::string_view name);
    /// A quantity to be typed with its unit. Returns what was typed and confirmed; what cannot be understood
    /// is told in trouble().
    std::optional<double> quantity(const std::string& name, double si, Dimension dimension, UnitSystem units);
    /// A line of text; true when confirmed.
    ///
    /// \param asked whether a dialogue is there for it, so that keys go to it as that opens
    bool text(const std::string& name, std::string& value, bool asked = false);
    /// An angle to be pulled along, degrees; what it was pulled to.
    std::optional<double> angle_slider(double degrees, float width);
    /// A line to pull a knob along; the share of its length that the knob was pulled to.
    ///
    /// \param words what the place of the knob means
    std::optional<double> slider(const std::string& name, double share, const std::string& words,
                                 const std::vector<SliderMark>& marks, float width);
    /// What was wrong with something typed in this frame, "" for nothing.
    [[nodiscard]] const std::string& trouble() const { return trouble_; }
    /// Notes something that was drawn by other means.
    void note(std::string_view text, const Area& area, bool usable = false);
    /// Draws letters at a place and notes them.
    void letters(ImDrawList& list, ImFont* font, double x, double y, std::string_view text, Ink ink);
    /// Draws letters in lines of a width, from a place on, and notes them as one; how high they are.
    ///
    /// \param spoken whether what they say is noted too
    float paragraph(ImDrawList& list, ImFont* font, ImVec2 at, float width, std::string_view text, Ink ink,
                    bool spoken = true);
    [[nodiscard]] ImVec2 size_of(ImFont* font, std::string_view text) const;
    /// In lines of a width; a figure keeps its unit.
    [[nodiscard]] std::string in_lines(ImFont* font, std::string_view text, float width) const;

    [[nodiscard]] const std::vector<Spoken>& spoken() const { return spoken_; }
    [[nodiscard]] const std::vector<Written>& written() const { return written_; }
    [[nodiscard]] const FocusRing& focus() const { return focus_; }

  private:
    void style() const;
    void note_last(std::string_view text, bool usable);
    void wrote(std::string_view text, const Area& area, const Area& seen, ImU32 ink);
    void hint(const std::string& words);
    /// Tells of the control drawn last; whether the keys have pressed it.
    bool control(bool text, bool asked = false);
    bool key_event(const KeyPressed& key);

    ImGuiContext* context_;
    double scale_;
    Theme theme_ = Theme::light;
    bool fonts_stale_ = true;
    ImFont *regular_ = nullptr, *small_ = nullptr, *large_ = nullptr;
    std::vector<Spoken> spoken_;
    std::vector<Written> written_;
    std::vector<Area> covers_, in_scene_, covered_;
    std::string trouble_;
    WindowSystem* system_ = nullptr;
    std::string clipboard_;
    FocusRing focus_;
    FocusRing::Id pressed_ = 0;  // by a key, in this frame
    // Where the pointer has pressed a control and still is: what that does is seen now, and a hint would hide
    // it.
    std::optional<Area> pressed_area_;
    bool escaped_ = false;
    /// What is being typed, and what was left by Tab, which confirms it as Enter does.
    struct Draft {
        FocusRing::Id field = 0;
        std::string text;
    };
    Draft draft_, left_;
    Layer layer_ = Layer::panels;
    std::vector<Event>
        later_;  // of a button that goes down and up within one frame, the rest comes in the next
};

}  // namespace evenspit::viewer
