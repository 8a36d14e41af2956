// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "app/viewer/camera.h"

namespace evenspit::viewer {

/// What lies over what on the screen.
enum class Layer { scene, panels, over_scene, menu, dialog, hint };

/// Where the keys go among the controls on the screen, in the order in which they are drawn. Menus and
/// dialogues take the keys as they open and give them back as they close; panels only once they are asked
/// to. Every control is told of in every frame.
class FocusRing {
  public:
    using Id = std::uint32_t;

    struct Control {
        Id id = 0;
        Area area;
        Layer layer = Layer::panels;
        bool text = false;   ///< typed into
        bool asked = false;  ///< what a dialogue is for: it has the keys first
    };
    enum class Way { left, right, up, down };

    /// Begins a frame: what was told of in the last one is what can be reached now.
    void begin_frame();
    void add(const Control& control) { coming_.push_back(control); }

    /// Whether keys that move and press go to controls rather than to the scene.
    [[nodiscard]] bool has_keys() const;
    /// Whether a menu or a dialogue has the keys, and keeps them until it closes.
    [[nodiscard]] bool is_modal() const;
    [[nodiscard]] bool in_dialog() const { return top_ == Layer::dialog; }
    [[nodiscard]] Id focused() const { return focused_; }
    /// Where it was in the last frame.
    [[nodiscard]] std::optional<Area> place() const;
    /// Whether its place was reached by keys, so that it must be shown.
    [[nodiscard]] bool is_shown() const { return by_keys_; }

    /// The next or the last control, round and round.
    void step(int by);
    /// The nearest control in a direction, if there is one.
    void go(Way way);
    /// From the scene to the first control of the panels, or back.
    void swap();
    /// Back to the scene; in a menu or a dialogue nothing.
    void leave();
    /// The pointer has taken a control, or none (0): no place is shown, and of none a key that presses
    /// presses nothing.
    void point(Id id);
    /// Whether the focus has moved in this frame or the last to that control, which may have to come into
    /// view.
    [[nodiscard]] bool has_come_to(Id id) const { return focused_ == id && moved_ > 0; }

  private:
    [[nodiscard]] std::vector<Control> reachable() const;
    static Id first_of(const std::vector<Control>& all);  // \pre not empty
    void focus(Id id);

    std::vector<Control> there_, coming_;
    Id focused_ = 0;
    Id before_ = 0;  // where the keys were when a menu or a dialogue opened
    bool by_keys_ = false, by_keys_before_ = false;
    bool let_go_ = false;  // the pointer was pressed beside all that keys go to
    Layer top_ = Layer::panels;
    int moved_ = 0;
};

}  // namespace evenspit::viewer
