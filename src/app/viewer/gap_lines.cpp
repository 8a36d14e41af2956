// SPDX-License-Identifier: MIT
#include "app/viewer/gap_lines.h"

#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "app/viewer/panels/parts.h"
#include "report/reader_units.h"

namespace evenspit::viewer {
namespace {

class GapLines {
  public:
    GapLines(Ui& ui, const Desk& desk, const Area& scene, LabelSheet& labels)
        : ui_(ui),
          desk_(desk),
          scene_(scene),
          labels_(labels),
          list_(*ImGui::GetBackgroundDrawList()),
          units_(desk.settings().units) {}

    void draw() {
        const auto& surfaces = desk_.analysis().clearance.surfaces;
        const auto nearest = std::min_element(
            surfaces.begin(), surfaces.end(),
            [](const auto& a, const auto& b) { return a.gap_m - a.keep_m < b.gap_m - b.keep_m; });
        for (auto gap = surfaces.begin(); gap != surfaces.end(); ++gap) {
            if (gap == nearest || desk_.shows_gaps()) draw(*gap, gap == nearest);
        }
    }

  private:
    [[nodiscard]] Vec2 shown(const Vec3& world) const {
        return desk_.camera().shown_at(world, scene_).head<2>();
    }
    void line(const Vec2& from, const Vec2& to, Ink ink, double points, double opacity) {
        list_.AddLine(corner(from.x(), from.y()), corner(to.x(), to.y()), ui_.colour(ink, opacity),
                      ui_.px(points));
    }

    void draw(const SurfaceGap& gap, bool nearest) {
        const Level level = gap.gap_m < 0 ? Level::stop : gap.gap_m < gap.keep_m ? Level::care : Level::ready;
        const Ink ink = ink_of(level);
        const double dim = desk_.stale() ? 0.45 : 1;
        const Vec2 a = shown(gap.on_load), b = shown(gap.on_surface);
        if (desk_.shows_gaps()) keep(gap, ink, 0.28 * dim);
        const Vec2 run = (b - a) / std::max((b - a).norm(), 1e-3);
        const Vec2 across = double(ui_.px(7)) * Vec2(-run.y(), run.x());
        line(a, b, ink, 2, dim);
        line(a - across, a + across, ink, 2, dim);
        line(b - across, b + across, ink, 2, dim);
        labels_.add(corner(b.x(), b.y()), {0, ui_.px(b.y() >= a.y() ? 16 : -16)}, words(gap, level), ink,
                    nearest ? 1 : 5);
    }

    /// How far from the surface nothing is to come, along the gap's own line.
    void keep(const SurfaceGap& gap, Ink ink, double opacity) {
        const Vec3 toward = gap.on_load - gap.on_surface;
        const double far = toward.norm();
        // What strikes has come through the surface: the line runs the other way.
        if (far < 1e-6 || gap.gap_m < 0) return;
        line(shown(gap.on_surface), shown(gap.on_surface + gap.keep_m / far * toward), ink, 12, opacity);
    }

    [[nodiscard]] std::string words(const SurfaceGap& gap, Level level) const {
        if (gap.gap_m < 0) return fmt::format("STRIKES {} by {}", gap.name, Units(units_).slack(-gap.gap_m));
        const std::string keep = slack_beside(gap.gap_m, gap.keep_m, units_).limit;
        return fmt::format("{} to {}{}", Units(units_).slack(gap.gap_m, {0, limits::gap_stop_m, gap.keep_m}),
                           gap.name,
                           level == Level::care ? fmt::format(", CARE: keep {}", keep)
                           : desk_.shows_gaps() ? fmt::format(", keep {}", keep)
                                                : "");
    }

    Ui& ui_;
    const Desk& desk_;
    const Area& scene_;
    LabelSheet& labels_;
    ImDrawList& list_;
    UnitSystem units_;
};

}  // namespace

void draw_gaps(Ui& ui, const Desk& desk, const Area& scene, LabelSheet& labels) {
    GapLines(ui, desk, scene, labels).draw();
}

}  // namespace evenspit::viewer
