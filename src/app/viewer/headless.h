// SPDX-License-Identifier: MIT
#pragma once

#include <memory>

#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// A place to draw without any display: OpenGL 3.3 by EGL on no surface at all. Events are given by hand, and
/// time goes on only when told to.
class HeadlessSystem : public WindowSystem {
  public:
    /// \throws std::runtime_error if there is no EGL or OpenGL 3.3 to be had
    HeadlessSystem(Extent size, double scale);
    ~HeadlessSystem() override;

    void give(Event event) { events_.push_back(std::move(event)); }
    void pass(double seconds) { now_ += seconds; }
    void resize(Extent size, double scale);

    std::vector<Event> wait(double seconds) override;
    void wake() override {}
    [[nodiscard]] Extent picture_size() const override { return size_; }
    [[nodiscard]] double scale() const override { return scale_; }
    [[nodiscard]] Extent window_size() const override { return size_; }
    void present(unsigned framebuffer) override;
    void set_title(const std::string& title) override { title_ = title; }
    [[nodiscard]] std::string clipboard() override { return clipboard_; }
    void set_clipboard(const std::string& text) override { clipboard_ = text; }
    [[nodiscard]] double now() const override { return now_; }

    [[nodiscard]] const std::string& title() const { return title_; }
    /// How often something was shown: nothing is drawn without need.
    [[nodiscard]] int shown() const { return shown_; }
    /// The picture shown last: RGB, rows from the top.
    [[nodiscard]] std::vector<std::uint8_t> picture() const;

  private:
    struct Context;
    std::unique_ptr<Context> context_;
    Extent size_;
    double scale_;
    double now_ = 0;
    std::vector<Event> events_;
    std::string title_, clipboard_;
    int shown_ = 0;
    unsigned framebuffer_ = 0;
};

}  // namespace evenspit::viewer
