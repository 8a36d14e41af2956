// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "app/viewer/desk.h"
#include "app/viewer/overlay.h"
#include "app/viewer/painter.h"
#include "app/viewer/panels/panels.h"
#include "app/viewer/ui.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// The viewer in a window, or where a window would be.
class Viewer {
  public:
    /// \param system its graphics context is current, and outlives the viewer
    Viewer(WindowSystem& system, Desk::Surround around);
    Viewer(const Viewer&) = delete;
    Viewer& operator=(const Viewer&) = delete;
    ~Viewer();

    /// One round: waits for something to happen, takes it in, grants what was wished for, and draws if there
    /// is something new to see. False once the viewer has been left.
    bool step();
    /// Rounds until nothing moves any more, at most `most` of them.
    void settle(int most = 60);

    /// Paints without shadows and smooth edges from now on: for slow machines.
    void hurry() { hurried_ = true; }

    [[nodiscard]] Desk& desk() { return desk_; }
    [[nodiscard]] const Ui& ui() const { return ui_; }
    /// Pixels per point in use.
    [[nodiscard]] double scale() const;
    [[nodiscard]] Layout layout() const;

  private:
    struct Handler;
    struct Film;
    /// What the last painted scene was painted from.
    struct Painted {
        std::uint64_t scene = 0;
        Look look;
        Extent size;
        std::optional<RodLine> line_in_hand;
    };

    void point_at(double x, double y);
    void press(const MousePressed& press);
    void press_edge();
    void key(const KeyPressed& key);
    void drag(double x, double y);
    /// Tells an event to panels and scene.
    void take(const Event& event);
    /// Panels as they are now, without painting anything.
    void draw_panels_only();
    void draw();
    [[nodiscard]] Look look_now(const Layout& layout) const;
    void paint_scene(const Layout& layout, Extent size);
    /// Saves the picture that was wished for, if one was.
    void save_picture();
    /// What is seen, as the bytes of a PNG file of that size.
    std::string picture_at(Extent size, bool panels);
    void begin_film(const std::filesystem::path& folder, const std::string& stem, Extent size);
    /// The size that is drawn, which is the system's but for a picture of another size.
    [[nodiscard]] Extent size_now() const { return other_size_ ? *other_size_ : system_.picture_size(); }
    void go_on_with_film();
    void end_film();
    [[nodiscard]] bool line_in_hand() const;

    WindowSystem& system_;
    Ui ui_;
    Painter painter_;
    Desk desk_;
    PanelState panels_;
    OverlayState overlay_;
    std::optional<Painted> painted_;
    std::optional<Extent> other_size_;  // while a picture of that size is drawn
    double grown_ = 1;                  // letters and lines in it
    std::string title_;
    std::unique_ptr<Film> film_;

    double x_ = -1, y_ = -1;  // the pointer
    double first_x_ = 0, first_y_ = 0;
    std::optional<MouseButton> held_;
    bool dragged_ = false;
    double clicked_at_s_ = -1, clicked_x_ = 0, clicked_y_ = 0;  // the last time
    std::optional<Vec3> section_held_;                          // where its handle was when it was taken
    std::optional<Edge> edge_held_;                             // between two parts of the window
    std::optional<Edge> edge_hovered_;
    double edge_clicked_at_s_ = -1;
    double section_from_ = 0;  // and the section
    Modifiers modifiers_;
    double drawn_at_ = 0;
    int frames_due_ = 3;  // panels need a few frames to come to rest
    bool graphics_ready_ = false;
    bool hurried_ = false;
};

}  // namespace evenspit::viewer
