// SPDX-License-Identifier: MIT
// The whole viewer without a display, driven by pointer and keys, read like a screen.
#pragma once

#include <algorithm>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "app/viewer/headless.h"
#include "app/viewer/viewer.h"
#include "support/temporary_folder.h"

namespace evenspit::viewer::test {

class Stage {
  public:
    explicit Stage(Extent size = {1280, 720}, double scale = 1)
        : system(size, scale),
          viewer(system, {.models = EVENSPIT_SOURCE_DIR "/models",
                          .storage = Storage(home / "settings", home / "state"),
                          .wake = {},
                          .wait_for_work = true}) {
        viewer.hurry();
    }

    evenspit::test::TemporaryFolder home;
    HeadlessSystem system;
    Viewer viewer;

    void give(Event event) {
        system.give(std::move(event));
        viewer.settle();
    }
    void open(const std::filesystem::path& file) {
        viewer.desk().wish(OpenFile{file});
        viewer.settle();
    }
    void move(double x, double y) { give(MouseMoved{x, y}); }
    void press(bool down, Modifiers modifiers = {}, MouseButton button = MouseButton::left) {
        give(MousePressed{button, down, modifiers});
    }
    void drag(const Vec3& from, const Vec3& to, Modifiers modifiers = {},
              MouseButton button = MouseButton::left) {
        move(from.x(), from.y());
        press(true, modifiers, button);
        for (int i = 1; i <= 4; ++i) {
            const Vec3 at = from + (to - from) * (i / 4.0);
            move(at.x(), at.y());
        }
        press(false, modifiers, button);
    }
    void click(double x, double y) {
        move(x, y);
        press(true);
        press(false);
    }
    /// Scrolls what is under x between two heights until a control can be seen there, as a hand would.
    void bring(const std::string& name, double x, double top, double bottom) {
        constexpr int most_notches = 160;
        double before = 0;
        for (int notch = 0; notch < most_notches; ++notch) {
            const Spoken* const found = find(name, true);
            ASSERT_NE(found, nullptr) << name << "; there is: " << screen();
            const double at = found->area.y;
            const bool in_sight = at > top && at + found->area.height < bottom;
            // What was scrolled moves in the frame after.
            if (in_sight && at == before) return;
            before = at;
            move(x, (top + bottom) / 2 + notch % 2);
            if (!in_sight) give(MouseWheel{.up = at > top ? -1.0 : 1.0});
        }
        FAIL() << name << " does not come into sight";
    }
    /// Presses what stands on the screen under that name.
    void click(const std::string& name) {
        const Spoken* found = find(name, true);
        ASSERT_NE(found, nullptr) << "nothing to press is called " << name << "; there is: " << screen();
        click(found->area.x + found->area.width / 2, found->area.y + found->area.height / 2);
    }
    void key(Key key, Modifiers modifiers = {}) {
        give(KeyPressed{key, true, modifiers});
        give(KeyPressed{key, false, {}});
    }
    /// Types into a field as a person does: clicks it, which takes all that stands there, types, confirms.
    void type(const std::string& field, const std::string& text) {
        click(field);
        type(text);
    }
    /// Types into the field that the keys are at, as one is when a dialogue asks for a name.
    void type(const std::string& text) {
        for (const char c : text) system.give(TextTyped{static_cast<unsigned char>(c)});
        viewer.settle();
        key(Key::enter);
    }

    /// The first text on the screen that holds these words.
    [[nodiscard]] const Spoken* find(const std::string& words, bool usable = false) const {
        const auto& all = viewer.ui().spoken();
        // What was drawn last lies on top.
        const auto whole = std::find_if(all.rbegin(), all.rend(), [&](const Spoken& s) {
            return s.text == words && (!usable || s.usable);
        });
        if (whole != all.rend()) return &*whole;
        const auto part = std::find_if(all.begin(), all.end(), [&](const Spoken& s) {
            return s.text.find(words) != std::string::npos && (!usable || s.usable);
        });
        return part != all.end() ? &*part : nullptr;
    }
    /// Where the control is that the keys are at, if there is one.
    [[nodiscard]] std::optional<Area> focused() const { return viewer.ui().focus().place(); }
    [[nodiscard]] bool says(const std::string& words) const { return find(words) != nullptr; }
    [[nodiscard]] std::string screen() const {
        std::string all;
        for (const Spoken& spoken : viewer.ui().spoken()) all.append(spoken.text).append(" | ");
        return all;
    }
    [[nodiscard]] const Assembly& load() { return viewer.desk().session().assembly(); }
    /// Where a place of the world shows.
    [[nodiscard]] Vec3 shown(const Vec3& world) {
        return viewer.desk().camera().shown_at(world, viewer.layout().scene);
    }
    /// Where a handle of what is chosen shows.
    [[nodiscard]] Vec3 handle(Grip3d grip) {
        for (const Handle& h : handles(load(), viewer.desk().selected(), viewer.desk().turn().angle_rad)) {
            if (h.grip == grip) return shown(h.at);
        }
        ADD_FAILURE() << "no such handle";
        return Vec3::Zero();
    }
};

}  // namespace evenspit::viewer::test
