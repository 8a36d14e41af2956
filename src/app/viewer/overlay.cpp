// SPDX-License-Identifier: MIT
#include "app/viewer/overlay.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "report/reader_units.h"
#include "units/dial.h"
#include "units/standard_gravity.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;

constexpr double handle_radius_pt = 7;
constexpr double catch_radius_pt = 11;

ImVec2 vec(const Vec3& at) {
    return {static_cast<float>(at.x()), static_cast<float>(at.y())};
}

ImVec2 operator+(ImVec2 a, ImVec2 b) {
    return {a.x + b.x, a.y + b.y};
}
ImVec2 operator-(ImVec2 a, ImVec2 b) {
    return {a.x - b.x, a.y - b.y};
}
ImVec2 operator*(float s, ImVec2 a) {
    return {s * a.x, s * a.y};
}
float length(ImVec2 a) {
    return std::hypot(a.x, a.y);
}

/// One frame's lines and letters over the scene.
class Overlay {
  public:
    Overlay(Ui& ui, const Desk& desk, const Layout& layout, const OverlayState& state)
        : ui_(ui),
          desk_(desk),
          area_(layout.scene),
          state_(state),
          list_(*ImGui::GetBackgroundDrawList()),
          units_(desk.settings().units) {}

    void draw() {
        const auto corner = [](double x, double y) {
            return ImVec2(static_cast<float>(x), static_cast<float>(y));
        };
        list_.PushClipRect(corner(area_.x, area_.y), corner(area_.x + area_.width, area_.y + area_.height));
        gap();
        balance();
        stations();
        rod_line_in_hand();
        selection();
        name_under_pointer();
        list_.PopClipRect();
    }

  private:
    [[nodiscard]] Vec3 shown(const Vec3& world) const { return desk_.camera().shown_at(world, area_); }
    [[nodiscard]] Vec3 turned(const Vec3& rod) const { return turned_rod(desk_.turn().angle_rad) * rod; }
    /// While a rod line is in hand its body stays as it sat, and what is told of the new seat is shown in
    /// that body.
    [[nodiscard]] Vec3 seen_in_body(const Vec3& rod) const {
        if (!state_.grab) return rod;
        const Handle& held = state_.grab->handle();
        if (held.grip != Grip3d::line_from && held.grip != Grip3d::line_to) return rod;
        const std::size_t item = held.thing.index;
        const Pose to_item = desk_.session().assembly().items[item].pose.inverse();
        return state_.grab->start().items[item].pose * (to_item * rod);
    }
    [[nodiscard]] std::string length_words(double m) const { return Units(units_).length(m); }
    [[nodiscard]] double dim() const { return desk_.answers().stale() ? 0.45 : 1.0; }

    void line(ImVec2 a, ImVec2 b, Ink ink, double points, double opacity = 1) {
        list_.AddLine(a, b, colour_of(ink, opacity * dim()), ui_.px(points));
    }
    void dashes(ImVec2 a, ImVec2 b, Ink ink, double points) {
        const ImVec2 run = b - a;
        const float whole = length(run), dash = ui_.px(6), gap = ui_.px(4);
        for (float at = 0; at < whole; at += dash + gap) {
            const float end = std::min(at + dash, whole);
            line(a + (at / whole) * run, a + (end / whole) * run, ink, points);
        }
    }
    void arrow(ImVec2 from, ImVec2 to, Ink ink, double points) {
        const ImVec2 run = to - from;
        const float whole = std::max(length(run), 1e-3F), head = std::min(ui_.px(11), whole);
        const ImVec2 along = (1 / whole) * run, across(-along.y, along.x);
        line(from, to - (head * 0.8F) * along, ink, points);
        list_.AddTriangleFilled(to, to - head * along + (head * 0.45F) * across,
                                to - head * along - (head * 0.45F) * across, colour_of(ink, dim()));
    }
    /// The height nearest to where a plate wants to be at which it lies over no other.
    [[nodiscard]] float free_height(ImVec2 corner, ImVec2 size, float pad) {
        const float step = (size.y + 2 * pad) / 2;
        for (int i = 0; i < 24; ++i) {
            // Below, above, further below …
            const int steps = (i + 1) / 2;
            const float y = corner.y + static_cast<float>(i % 2 == 0 ? steps : -steps) * step;
            const Area wanted{corner.x - pad, y - pad, size.x + 2 * pad, size.y + 2 * pad};
            const bool inside = y > area_.y && y + size.y < area_.y + area_.height;
            const bool free = std::none_of(plates_.begin(), plates_.end(), [&](const Area& other) {
                return wanted.x < other.x + other.width && other.x < wanted.x + wanted.width &&
                       wanted.y < other.y + other.height && other.y < wanted.y + wanted.height;
            });
            if (!inside || !free) continue;
            plates_.push_back({corner.x, y, size.x, size.y});
            return y;
        }
        return corner.y;
    }

    /// Letters on a light plate, so that they can be read over anything.
    void plate(ImVec2 at, std::string_view text, Ink ink, double anchor_x = 0.5) {
        const ImVec2 size = ui_.size_of(ui_.small(), text);
        const float pad = ui_.px(4);
        ImVec2 corner(at.x - static_cast<float>(anchor_x) * size.x, at.y - size.y / 2);
        corner.x = std::clamp(corner.x, static_cast<float>(area_.x) + 2 * pad,
                              std::max(static_cast<float>(area_.x) + 2 * pad,
                                       static_cast<float>(area_.x + area_.width) - size.x - 2 * pad));
        corner.y = std::clamp(corner.y, static_cast<float>(area_.y) + pad,
                              static_cast<float>(area_.y + area_.height) - size.y - pad);
        corner.y = free_height(corner, size, pad);
        list_.AddRectFilled(corner - ImVec2(pad, pad * 0.5F), corner + size + ImVec2(pad, pad * 0.5F),
                            colour_of(Ink::paper, 0.88), ui_.px(3));
        ui_.letters(list_, ui_.small(), corner.x, corner.y, text, ink, dim());
    }

    /// Where the usable stretch begins and ends, and a mark every 100 mm, on the rod.
    void stations() {
        const Rod& rod = desk_.session().assembly().rod;
        const auto tick = [&](double x, double reach, Ink ink) {
            line(vec(shown({x, 0, -rod.width_m / 2 - 0.002})),
                 vec(shown({x, 0, -rod.width_m / 2 - 0.002 - reach})), ink, 1);
        };
        const bool close = movable(desk_.selected());
        for (const double x : rod.usable_m) {
            tick(x, 0.012, Ink::accent);
            // Along the rod both marks fall on one place.
            if (close && std::abs(desk_.camera().forward().x()) < 0.95)
                plate(vec(shown({x, 0, -0.034})), "usable " + length_words(x), Ink::accent);
        }
    }

    void gap() {
        const Clearance& clearance = desk_.answers().analysis().clearance;
        const SurfaceGap* nearest = nullptr;
        for (const SurfaceGap& gap : clearance.surfaces) {
            if (nearest == nullptr || gap.gap_m - gap.keep_m < nearest->gap_m - nearest->keep_m)
                nearest = &gap;
        }
        if (nearest == nullptr) return;
        const Level level = nearest->gap_m < 0                 ? Level::stop
                            : nearest->gap_m < nearest->keep_m ? Level::care
                                                               : Level::ready;
        const ImVec2 a = vec(shown(nearest->on_load)), b = vec(shown(nearest->on_surface));
        const ImVec2 run = b - a;
        const float whole = std::max(length(run), 1e-3F);
        const ImVec2 across = (ui_.px(7) / whole) * ImVec2(-run.y, run.x);
        const Ink ink = ink_of(level);
        line(a, b, ink, 2);
        line(a - across, a + across, ink, 2);
        line(b - across, b + across, ink, 2);
        const std::string words =
            nearest->gap_m < 0
                ? fmt::format("STRIKES {} by {}", nearest->name, Units(units_).slack(-nearest->gap_m))
                : fmt::format("{} to {}{}",
                              Units(units_).slack(nearest->gap_m, {0, limits::gap_stop_m, nearest->keep_m}),
                              nearest->name,
                              level == Level::care
                                  ? fmt::format(", CARE: keep {}",
                                                slack_beside(nearest->gap_m, nearest->keep_m, units_).limit)
                                  : "");
        plate(b + ImVec2(0, ui_.px(b.y >= a.y ? 16 : -16)), words, ink);
    }

    void balance() {
        const Balance& balance = desk_.answers().analysis().balance;
        if (balance.mass_kg <= 0) return;
        const Vec2 off = balance.unbalance_kg_m / balance.mass_kg;
        const Vec3 foot(balance.centre_x_m, 0, 0);
        const ImVec2 axis = vec(shown(turned(seen_in_body(foot))));
        const ImVec2 centre = vec(shown(turned(seen_in_body(foot + Vec3(0, off.x(), off.y())))));
        const bool heavy =
            balance.unbalance_kg_m_size * standard_gravity > 0.02 * balance.friction_torque_n_m;
        if (heavy) {
            // As long as the sweep is wide, so that it stands out of the load.
            const double reach = std::max(
                0.06, desk_.answers().analysis().clearance.outline.radius_at(balance.centre_x_m) + 0.03);
            const Vec3 out = rod_point(0, reach, balance.heavy_side_rad);
            const ImVec2 tip = vec(shown(turned(seen_in_body(foot + out))));
            arrow(axis, tip, Ink::strong, 2.5);
            const float down = tip.y >= axis.y ? 1.0F : -1.0F;
            plate(tip + ImVec2(0, down * ui_.px(13)),
                  "heavy side, " + dial_and_clock_text(balance.heavy_side_rad), Ink::strong);
        }
        // The surveyor's mark: a disc in quarters.
        const float r = ui_.px(8);
        list_.AddCircleFilled(centre, r, colour_of(Ink::paper, dim()), 32);
        for (const float start : {0.0F, static_cast<float>(pi)}) {
            list_.PathLineTo(centre);
            list_.PathArcTo(centre, r, start, start + static_cast<float>(pi / 2), 12);
            list_.PathFillConvex(colour_of(Ink::strong, dim()));
        }
        list_.AddCircle(centre, r, colour_of(Ink::strong, dim()), 32, ui_.px(1.5));
        if (!state_.grab) {
            plate(centre + ImVec2(-ui_.px(14), ui_.px(20)),
                  fmt::format("centre of mass, {} off the rod", length_words(off.norm())), Ink::strong, 1);
        }
    }

    /// While the rod line is being moved the body stays, and the line moves through it.
    void rod_line_in_hand() {
        if (!state_.grab) return;
        const Grip3d grip = state_.grab->handle().grip;
        if (grip != Grip3d::line_from && grip != Grip3d::line_to) return;
        const std::size_t index = state_.grab->handle().thing.index;
        const Item& before = state_.grab->start().items[index];
        const RodLine& now = desk_.session().assembly().items[index].seat.line;
        const Box3& box = before.body->bounds;
        const Vec3 a(box.min().x(), now.from.x(), now.from.y()), b(box.max().x(), now.to.x(), now.to.y());
        const Vec3 beyond = 0.25 * (b - a);
        dashes(vec(shown(turned(before.pose * Vec3(a - beyond)))),
               vec(shown(turned(before.pose * Vec3(b + beyond)))), Ink::accent, 3);
        const bool far_end = grip == Grip3d::line_to;
        const ImVec2 held = vec(shown(turned(before.pose * (far_end ? b : a))));
        list_.AddCircleFilled(held, ui_.px(handle_radius_pt), colour_of(Ink::accent), 24);
        const Vec2& end = far_end ? now.to : now.from;
        plate(held + ImVec2(0, ui_.px(-20)),
              fmt::format("rod line here: y {}, z {}", length_words(end.x()), length_words(end.y())),
              Ink::accent);
    }

    void selection() {
        if (state_.grab && (state_.grab->handle().grip == Grip3d::line_from ||
                            state_.grab->handle().grip == Grip3d::line_to))
            return;
        const Assembly& assembly = desk_.session().assembly();
        for (const Handle& handle :
             usable_handles(assembly, desk_.selected(), desk_.turn().angle_rad, desk_.camera())) {
            const ImVec2 at = vec(shown(handle.at));
            const bool hot = state_.hovered_handle && state_.hovered_handle->grip == handle.grip;
            mark(handle, at, hot);
            if (hot || (state_.grab && state_.grab->handle().grip == handle.grip))
                plate(at + ImVec2(0, ui_.px(-22)), handle_words(handle, assembly, units_), Ink::accent);
        }
    }

    /// A ball for a line's end, a double arrow for sliding, a bent arrow for turning.
    void mark(const Handle& handle, ImVec2 at, bool hot) {
        const float r = ui_.px(handle_radius_pt) * (hot ? 1.25F : 1.0F);
        const ImU32 fill = colour_of(hot ? Ink::accent : Ink::paper), rim = colour_of(Ink::accent);
        if (handle.grip == Grip3d::slide) {
            const ImVec2 next = vec(shown(handle.at + Vec3(0.02, 0, 0)));
            const ImVec2 run = next - at;
            const float whole = std::max(length(run), 1e-3F);
            const ImVec2 along = (1 / whole) * run;
            list_.AddCircleFilled(at, r * 0.75F, fill, 24);
            list_.AddCircle(at, r * 0.75F, rim, 24, ui_.px(2));
            arrow(at + r * along, at + (r + ui_.px(20)) * along, Ink::accent, 2.5);
            arrow(at - r * along, at - (r + ui_.px(20)) * along, Ink::accent, 2.5);
        } else if (handle.grip == Grip3d::clock) {
            const double radius = handle.at.tail<2>().norm();
            const double clock = std::atan2(handle.at.z(), handle.at.y());
            std::array<ImVec2, 25> arc;
            for (std::size_t i = 0; i < arc.size(); ++i) {
                const double angle = clock + (static_cast<double>(i) - 12) / 12 * 0.45;
                arc[i] = vec(shown(rod_point(handle.at.x(), radius, angle)));
            }
            list_.AddPolyline(arc.data(), static_cast<int>(arc.size()), rim, 0, ui_.px(2));
            arrow(arc[22], arc[24], Ink::accent, 2);
            arrow(arc[2], arc[0], Ink::accent, 2);
            list_.AddCircleFilled(at, r * 0.75F, fill, 24);
            list_.AddCircle(at, r * 0.75F, rim, 24, ui_.px(2));
        } else {
            list_.AddCircleFilled(at, r, fill, 24);
            list_.AddCircle(at, r, rim, 24, ui_.px(2.5));
            if (!hot) list_.AddCircleFilled(at, r * 0.35F, rim, 16);
        }
    }

    void name_under_pointer() {
        if (!state_.hovered || state_.grab || state_.hovered_handle) return;
        const Assembly& assembly = desk_.session().assembly();
        const Thing& thing = state_.hovered->thing;
        std::string words = thing_name(thing, assembly);
        if (movable(thing)) {
            const Whereabouts where = whereabouts(assembly, thing);
            words += " at " + Stations(units_, desk_.session().assembly().rod.mark_m)(where.at_m);
        }
        if (thing.kind == Thing::Kind::surface && thing.index < assembly.cooker.surfaces.size()) {
            const CookerSurface& surface = assembly.cooker.surfaces[thing.index];
            words += fmt::format("{}, keep {}", surface.fire ? ", fire" : "", length_words(surface.keep_m));
        }
        plate(vec(shown(state_.hovered->at)) + ImVec2(ui_.px(14), ui_.px(-16)), words, Ink::plain, 0);
    }

    Ui& ui_;
    const Desk& desk_;
    const Area& area_;
    const OverlayState& state_;
    ImDrawList& list_;
    UnitSystem units_;
    std::vector<Area> plates_;
};

}  // namespace

std::string handle_words(const Handle& handle, const Assembly& assembly, UnitSystem units) {
    const auto length = [units](double m) { return Units(units).length(m); };
    std::string name = thing_name(handle.thing, assembly);
    const Whereabouts where = whereabouts(assembly, handle.thing);
    switch (handle.grip) {
        case Grip3d::slide:
            return fmt::format("slide {}: at {}", name, Stations(units, assembly.rod.mark_m)(where.at_m));
        case Grip3d::clock:
            return fmt::format("turn {}: {}", name, clock_words(assembly, handle.thing));
        case Grip3d::line_from:
        case Grip3d::line_to: {
            const RodLine& line = assembly.items[handle.thing.index].seat.line;
            const Vec2& end = handle.grip == Grip3d::line_from ? line.from : line.to;
            return fmt::format("shift the rod line: y {}, z {}", length(end.x()), length(end.y()));
        }
    }
    return name;
}

void draw_overlay(Ui& ui, const Desk& desk, const Layout& layout, const OverlayState& state) {
    if (desk.has_answer()) Overlay(ui, desk, layout, state).draw();
}

std::optional<Handle> handle_at(const Ui& ui, const Desk& desk, const Area& area, double x, double y) {
    if (!desk.has_answer()) return std::nullopt;
    // Of handles that lie over each other the one nearer to the eye is on top.
    std::optional<Handle> nearest;
    double depth = 0;
    for (const Handle& handle :
         usable_handles(desk.session().assembly(), desk.selected(), desk.turn().angle_rad, desk.camera())) {
        const Vec3 at = desk.camera().shown_at(handle.at, area);
        if (std::hypot(at.x() - x, at.y() - y) > ui.px(catch_radius_pt) || (nearest && at.z() > depth))
            continue;
        depth = at.z();
        nearest = handle;
    }
    return nearest;
}

}  // namespace evenspit::viewer
