// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace evenspit::viewer {

/// Size in pixels of the picture, not of the desktop.
struct Extent {
    int width = 0;
    int height = 0;
    bool operator==(const Extent&) const = default;
};

enum class MouseButton { left, right, middle };

/// The keys that the viewer knows; letters and digits go by their character.
enum class Key {
    unknown,
    tab,
    left,
    right,
    up,
    down,
    page_up,
    page_down,
    home,
    end,
    insert,
    del,
    backspace,
    space,
    enter,
    escape,
    plus,
    minus,
    comma,
    period,
    f1,
    f5,
    f6,
    num_0,
    num_1,
    num_2,
    num_3,
    num_4,
    num_5,
    num_6,
    num_7,
    num_8,
    num_9,
    a,
    b,
    c,
    d,
    e,
    f,
    g,
    h,
    i,
    j,
    k,
    l,
    m,
    n,
    o,
    p,
    q,
    r,
    s,
    t,
    u,
    v,
    w,
    x,
    y,
    z,
    count,
};

struct Modifiers {
    bool control = false;
    bool shift = false;
    bool alt = false;
    bool operator==(const Modifiers&) const = default;
};

struct MouseMoved {
    double x = 0, y = 0;  ///< pixels of the picture, from its upper left
};
/// The pointer is over the window no more.
struct PointerLeft {};
struct MousePressed {
    MouseButton button = MouseButton::left;
    bool down = false;
    Modifiers modifiers;
};
struct MouseWheel {
    double right = 0, up = 0;  ///< notches
};
struct KeyPressed {
    Key key = Key::unknown;
    bool down = false;  ///< repeats come as further presses
    Modifiers modifiers;
};
struct TextTyped {
    std::uint32_t character = 0;
};
struct FilesDropped {
    std::vector<std::filesystem::path> files;
};
struct CloseAsked {};
/// Size, scale or the need to draw again have changed.
struct Exposed {};

using Event = std::variant<MouseMoved, PointerLeft, MousePressed, MouseWheel, KeyPressed, TextTyped,
                           FilesDropped, CloseAsked, Exposed>;

/// The least sizes of a window, in the display's own points: upright as a phone's, or wide and low; all
/// panels have room in both.
inline constexpr Extent least_upright{390, 844}, least_wide{960, 600};

/// How small a window may become that is so large now: not below both.
Extent least_size(Extent now);

/// What the viewer needs of a system with windows: a place to draw, what the user does, and the time. One of
/// them has a window on a display; another has none and is driven by tests and snapshots.
class WindowSystem {
  public:
    WindowSystem() = default;
    WindowSystem(const WindowSystem&) = delete;
    WindowSystem& operator=(const WindowSystem&) = delete;
    virtual ~WindowSystem() = default;

    /// Waits until there is something to tell, wake() is called, or the time is over. Events in order.
    ///
    /// \param seconds longest wait; 0: not at all; negative: as long as it takes
    virtual std::vector<Event> wait(double seconds) = 0;
    /// Ends a wait() from any thread.
    virtual void wake() = 0;

    [[nodiscard]] virtual Extent picture_size() const = 0;
    /// How many pixels a point of the display's own measure has: 1, or 2 on a dense display.
    [[nodiscard]] virtual double scale() const = 0;
    /// The window's size in the display's points, to be remembered.
    [[nodiscard]] virtual Extent window_size() const = 0;

    /// Shows what was drawn into the framebuffer object of that name, which is picture_size() large.
    virtual void present(unsigned framebuffer) = 0;

    virtual void set_title(const std::string& title) = 0;
    [[nodiscard]] virtual std::string clipboard() = 0;
    virtual void set_clipboard(const std::string& text) = 0;
    /// Seconds from some beginning; never runs back.
    [[nodiscard]] virtual double now() const = 0;
};

}  // namespace evenspit::viewer
