// SPDX-License-Identifier: MIT
#include "app/viewer/overlay.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "app/viewer/cloud_lines.h"
#include "app/viewer/dial_scale.h"
#include "app/viewer/gap_lines.h"
#include "app/viewer/label_sheet.h"
#include "app/viewer/legend.h"
#include "app/viewer/tape_lines.h"
#include "report/reader_units.h"
#include "scene/colouring.h"
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

/// The handles of what is chosen, as they show.
std::vector<PlacedHandle> shown_handles(const Ui& ui, const Desk& desk, const Area& area) {
    return placed_handles(
        usable_handles(desk.session().assembly(), desk.selected(), desk.turn().angle_rad, desk.camera()),
        desk.camera(), area, ui.px(2 * catch_radius_pt));
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
          units_(desk.settings().units),
          labels_(ui, list_, area_) {}

    void draw() {
        const auto corner = [](double x, double y) {
            return ImVec2(static_cast<float>(x), static_cast<float>(y));
        };
        list_.PushClipRect(corner(area_.x, area_.y), corner(area_.x + area_.width, area_.y + area_.height));
        draw_cloud_lines(ui_, desk_, area_);
        draw_gaps(ui_, desk_, area_, labels_);
        balance();
        stations();
        rod_line_in_hand();
        selection();
        name_under_pointer();
        names();
        section();
        draw_tape(ui_, desk_, area_, labels_);
        keep_free();
        labels_.draw(desk_.stale());
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
    [[nodiscard]] double dim() const { return desk_.stale() ? 0.45 : 1.0; }

    void line(ImVec2 a, ImVec2 b, Ink ink, double points, double opacity = 1) {
        list_.AddLine(a, b, ui_.colour(ink, opacity * dim()), ui_.px(points));
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
                                to - head * along - (head * 0.45F) * across, ui_.colour(ink, dim()));
    }
    void label(ImVec2 place, ImVec2 off, std::string text, Ink ink, int rank, bool needed = true) {
        labels_.add(place, off, std::move(text), ink, rank, needed);
    }
    /// No word is to hide forks, counterweights and handles, nor to be hidden by panels over the scene.
    void keep_free() {
        for (const Area& cover : ui_.covers()) labels_.keep_free(cover);
        for (const Piece& piece : desk_.scene().pieces) {
            if (piece.thing.kind != Thing::Kind::fork && piece.thing.kind != Thing::Kind::counterweight)
                continue;
            const Pose pose = turned_rod(desk_.turn().angle_rad) * piece.pose;
            Eigen::AlignedBox2d box;
            for (const ShapeMesh::Corner& corner : piece.shape->corners)
                box.extend(Vec2(shown(pose * Vec3(corner.at[0], corner.at[1], corner.at[2])).head<2>()));
            if (!box.isEmpty())
                labels_.keep_free({box.min().x(), box.min().y(), box.sizes().x(), box.sizes().y()});
        }
        const double reach = ui_.px(catch_radius_pt);
        for (const PlacedHandle& placed : shown_handles(ui_, desk_, area_))
            labels_.keep_free({placed.at.x() - reach, placed.at.y() - reach, 2 * reach, 2 * reach});
    }

    /// Forks and counterweights by their names, and the tines of what is chosen or marked.
    void names() {
        const Assembly& load = desk_.session().assembly();
        const auto hovered = state_.hovered ? state_.hovered->thing : Thing{};
        for (std::size_t f = 0; f < load.forks.size(); ++f) {
            const Thing fork{Thing::Kind::fork, f};
            const Vec3 hub(load.forks[f].at_m, 0, 0);
            if (hovered != fork)
                label(vec(shown(hub)), {0, ui_.px(-30)}, thing_name(fork, load), Ink::plain, 8, false);
            if (desk_.selected() != fork) continue;
            for (std::size_t t = 0; t < load.forks[f].tines.size(); ++t)
                name_tine({Thing::Kind::tine, f, t}, Ink::plain, false);
        }
        for (std::size_t c = 0; c < load.counterweights.size(); ++c) {
            const Thing weight{Thing::Kind::counterweight, c};
            const Counterweight& w = load.counterweights[c];
            if (hovered != weight)
                label(vec(shown(turned(rod_point(w.at_m, w.radius_m, w.clock_rad)))), {0, ui_.px(-30)},
                      thing_name(weight, load), Ink::plain, 8, false);
        }
        for (const Thing& tine : desk_.marked_tines()) {
            if (tine.index >= load.forks.size() || tine.part >= load.forks[tine.index].tines.size()) continue;
            const auto [root, tip] = tine_line(load, tine);
            line(vec(shown(turned(root))), vec(shown(turned(tip))), Ink::stop, 4);
            name_tine(tine, Ink::stop, true);
        }
    }
    /// The section's handle: a double arrow along its normal.
    void section() {
        const auto place = section_handle(desk_);
        if (!place) return;
        const Vec3 normal = desk_.section()->normal();
        const ImVec2 here = vec(shown(*place)), run = vec(shown(*place + 0.03 * normal)) - here;
        const float whole = std::max(length(run), 1e-3F), r = ui_.px(handle_radius_pt);
        const ImVec2 along = (1 / whole) * run;
        arrow(here + r * along, here + (r + ui_.px(18)) * along, Ink::accent, 2.5);
        arrow(here - r * along, here - (r + ui_.px(18)) * along, Ink::accent, 2.5);
        list_.AddRectFilled(here - ImVec2(r, r), here + ImVec2(r, r), ui_.colour(Ink::paper), ui_.px(2));
        list_.AddRect(here - ImVec2(r, r), here + ImVec2(r, r), ui_.colour(Ink::accent), ui_.px(2), 0,
                      ui_.px(2));
        const Section& cut = *desk_.section();
        const std::string words =
            cut.way == Section::Way::across
                ? "section at " + Stations(units_, desk_.session().assembly().rod.mark_m)(cut.at_m)
                : fmt::format("section {} {} the rod", length_words(std::abs(cut.at_m)),
                              cut.at_m >= 0 ? "behind" : "before");
        label(here, {0, ui_.px(-24)}, words, Ink::accent, 4);
        labels_.keep_free({here.x - r, here.y - r, 2.0 * r, 2.0 * r});
    }
    /// What the colours tell at a place of the load, in words; "" where they tell nothing.
    [[nodiscard]] std::string field_words(const Vec3& world) const {
        const Field& field = *desk_.scene().field;
        const Vec3 own = turned_rod(-desk_.turn().angle_rad) * world;
        const std::optional<double> value = scene::told_value(desk_.scene(), own);
        return value ? fmt::format(", {} {}", field.name, field_figure(field, *value, units_)) : "";
    }

    void name_tine(const Thing& tine, Ink ink, bool needed) {
        const Assembly& load = desk_.session().assembly();
        const auto [root, tip] = tine_line(load, tine);
        label(vec(shown(turned(tip))), {ui_.px(20), ui_.px(-18)},
              needed ? thing_name(tine, load) : fmt::format("tine {}", tine.part + 1), ink, needed ? 1 : 9,
              needed);
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
                label(vec(shown({x, 0, -rod.width_m / 2 - 0.014})), {0, ui_.px(14)},
                      "usable " + length_words(x), Ink::accent, 6, false);
        }
    }

    /// A dial round the rod on which the heavy side's arrow can be read: its rim stands for a round figure of
    /// torque, a ring for every fifth of it, a stroke for every hour.
    void dial(const Vec3& foot, double radius, double rim_n_m) {
        const auto at = [&](double share, double clock) {
            return vec(shown(turned(seen_in_body(foot + rod_point(0, share * radius, clock)))));
        };
        constexpr int rings = 5;
        for (int ring = 1; ring <= rings; ++ring) {
            std::array<ImVec2, 73> circle;
            for (std::size_t i = 0; i < circle.size(); ++i)
                circle[i] = at(static_cast<double>(ring) / rings, static_cast<double>(i) * pi / 36);
            list_.AddPolyline(circle.data(), static_cast<int>(circle.size()),
                              ui_.colour(Ink::strong, (ring == rings ? 0.55 : 0.16) * dim()), 0, ui_.px(1));
        }
        for (int hour = 1; hour <= 12; ++hour) {
            const double clock = pi / 2 - hour * pi / 6;
            const bool main = hour % 3 == 0;
            line(at(main ? 0.92 : 0.95, clock), at(1, clock), Ink::strong, main ? 2 : 1, 0.7);
            if (main)
                label(at(1, clock), {0, at(1, clock).y > at(0, 0).y ? ui_.px(9) : ui_.px(-9)},
                      std::to_string(hour), Ink::faint, 9, false);
        }
        label(at(1, -pi / 4), {ui_.px(34), ui_.px(10)},
              "rim " + Units(units_).given(rim_n_m, Dimension::torque), Ink::faint, 7, false);
    }

    void balance() {
        const Balance& balance = desk_.analysis().balance;
        if (balance.mass_kg <= 0) return;
        const Vec2 off = balance.unbalance_kg_m / balance.mass_kg;
        const Vec3 foot(balance.centre_x_m, 0, 0);
        const ImVec2 axis = vec(shown(turned(seen_in_body(foot))));
        const ImVec2 centre = vec(shown(turned(seen_in_body(foot + Vec3(0, off.x(), off.y())))));
        const bool heavy =
            balance.unbalance_kg_m_size * standard_gravity > 0.02 * balance.friction_torque_n_m;
        // As wide as the sweep, so that it stands out of the load.
        const double radius =
            std::max(0.06, desk_.analysis().clearance.outline.radius_at(balance.centre_x_m) + 0.03);
        if (heavy) {
            const double lift = balance.unbalance_kg_m_size * standard_gravity;
            const double rim = rim_of(lift, Units(units_).axis(Dimension::torque).si);
            dial(foot, radius, rim);
            const Vec3 out = rod_point(0, radius * lift / rim, balance.heavy_side_rad);
            const ImVec2 tip = vec(shown(turned(seen_in_body(foot + out))));
            arrow(axis, tip, Ink::strong, 2.5);
            const float down = tip.y >= axis.y ? 1.0F : -1.0F;
            label(tip, {0, down * ui_.px(15)},
                  fmt::format("heavy side, {}, pulls {}", dial_and_clock_text(balance.heavy_side_rad),
                              Units(units_).torque(lift)),
                  Ink::strong, 2);
        }
        // The surveyor's mark: a disc in quarters.
        const float r = ui_.px(8);
        list_.AddCircleFilled(centre, r, ui_.colour(Ink::paper, dim()), 32);
        for (const float start : {0.0F, static_cast<float>(pi)}) {
            list_.PathLineTo(centre);
            list_.PathArcTo(centre, r, start, start + static_cast<float>(pi / 2), 12);
            list_.PathFillConvex(ui_.colour(Ink::strong, dim()));
        }
        list_.AddCircle(centre, r, ui_.colour(Ink::strong, dim()), 32, ui_.px(1.5));
        labels_.keep_free({centre.x - r, centre.y - r, 2.0 * r, 2.0 * r});
        if (!state_.grab) {
            label(centre, {-ui_.px(90), ui_.px(22)},
                  fmt::format("centre of mass, {} off the rod", length_words(off.norm())), Ink::strong, 3);
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
        list_.AddCircleFilled(held, ui_.px(handle_radius_pt), ui_.colour(Ink::accent), 24);
        const Vec2& end = far_end ? now.to : now.from;
        label(held, {0, ui_.px(-20)},
              fmt::format("rod line here: y {}, z {}", length_words(end.x()), length_words(end.y())),
              Ink::accent, 0);
    }

    void selection() {
        if (state_.grab && (state_.grab->handle().grip == Grip3d::line_from ||
                            state_.grab->handle().grip == Grip3d::line_to))
            return;
        const Assembly& assembly = desk_.session().assembly();
        for (const auto& [handle, own, mark_at] : shown_handles(ui_, desk_, area_)) {
            const ImVec2 at(static_cast<float>(mark_at.x()), static_cast<float>(mark_at.y()));
            if (mark_at != own)
                line(at, ImVec2(static_cast<float>(own.x()), static_cast<float>(own.y())), Ink::accent, 1.5);
            const bool hot = state_.hovered_handle && state_.hovered_handle->grip == handle.grip;
            mark(handle, at, hot);
            if (hot || (state_.grab && state_.grab->handle().grip == handle.grip))
                label(at, {0, ui_.px(-24)}, handle_words(handle, assembly, units_), Ink::accent, 0);
        }
    }

    /// A ball for a line's end, a double arrow for sliding, a bent arrow for turning.
    void mark(const Handle& handle, ImVec2 at, bool hot) {
        const float r = ui_.px(handle_radius_pt) * (hot ? 1.25F : 1.0F);
        const ImU32 fill = ui_.colour(hot ? Ink::accent : Ink::paper), rim = ui_.colour(Ink::accent);
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
        const bool body = thing.kind == Thing::Kind::item || thing.kind == Thing::Kind::limb;
        if (body && desk_.scene().field) words += field_words(seen_place(desk_, *state_.hovered));
        label(vec(shown(state_.hovered->at)), {ui_.px(50), ui_.px(-22)}, words, Ink::plain, 0);
    }

    Ui& ui_;
    const Desk& desk_;
    const Area& area_;
    const OverlayState& state_;
    ImDrawList& list_;
    UnitSystem units_;
    LabelSheet labels_;
};

}  // namespace

Vec3 seen_place(const Desk& desk, const Sighting& sighting) {
    const bool turns = sighting.thing.kind == Thing::Kind::item || sighting.thing.kind == Thing::Kind::limb;
    if (!desk.section() || !turns) return sighting.at;
    const Vec3 normal = desk.section()->normal(), eye = desk.camera().eye();
    const double at = desk.section()->at_m, from = eye.dot(normal) - at;
    const double to = sighting.at.dot(normal) - at;
    if (from * to <= 0) return sighting.at;
    const Vec3 along = (sighting.at - eye).normalized();
    const double toward = along.dot(normal);
    if (std::abs(toward) < 1e-6 || -from / toward < 0) return sighting.at;
    return eye - from / toward * along;
}

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
    ui.set_layer(Layer::scene);
    if (desk.has_answer()) Overlay(ui, desk, layout, state).draw();
    ui.set_layer(Layer::panels);
}

std::optional<Vec3> section_handle(const Desk& desk) {
    if (!desk.section() || !desk.has_answer()) return std::nullopt;
    const Section& section = *desk.section();
    const Outline& outline = desk.analysis().clearance.outline;
    const double x = section.way == Section::Way::across ? section.at_m : desk.analysis().balance.centre_x_m;
    // Out of the sweep, so that it can be taken hold of.
    const Vec3 above(x, 0, std::max(0.08, outline.radius_at(x) + 0.05));
    return section.way == Section::Way::across ? above : Vec3(above + Vec3(0, section.at_m, 0));
}

bool is_at_section_handle(const Ui& ui, const Desk& desk, const Area& area, double x, double y) {
    const auto place = section_handle(desk);
    if (!place) return false;
    const Vec3 at = desk.camera().shown_at(*place, area);
    return std::hypot(at.x() - x, at.y() - y) <= ui.px(catch_radius_pt);
}

std::optional<Handle> handle_at(const Ui& ui, const Desk& desk, const Area& area, double x, double y) {
    if (!desk.has_answer()) return std::nullopt;
    for (const PlacedHandle& placed : shown_handles(ui, desk, area)) {
        if ((placed.at - Vec2(x, y)).norm() <= ui.px(catch_radius_pt)) return placed.handle;
    }
    return std::nullopt;
}

}  // namespace evenspit::viewer
