// SPDX-License-Identifier: MIT
#include "app/viewer/cloud_lines.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/viewer/panels/parts.h"

namespace evenspit::viewer {
namespace {

class Lines {
  public:
    Lines(Ui& ui, const Desk& desk, const Area& scene)
        : ui_(ui), desk_(desk), scene_(scene), list_(*ImGui::GetBackgroundDrawList()) {}

    void draw(const scene::DrawnMounting& mounting, bool strong) {
        const bool ready = mounting.verdict == Level::ready;
        const Ink ink = ready ? Ink::strong : ink_of(mounting.verdict);
        const double dim = desk_.stale() ? 0.45 : 1, line = strong ? 1 : ready ? 0.14 : 0.28;
        for (const scene::RodRun& run : mounting.rods) {
            const Vec2 from = shown(run.from), to = shown(run.to);
            const ImU32 colour = ui_.colour(ink, line * dim);
            if (ready) {
                list_.AddLine(place(from), place(to), colour, ui_.px(strong ? 3 : 1));
            } else {
                dashes(from, to, colour, ui_.px(strong ? 3 : 1));
            }
            for (const Vec2& end : {from, to})
                list_.AddCircleFilled(place(end), ui_.px(strong ? 4 : 1.8),
                                      ui_.colour(ink, (strong ? 1 : 0.5) * dim), 12);
        }
        level_shape(list_, place(shown(mounting.centre)), ui_.px(strong ? 5 : 2.5), mounting.verdict,
                    ui_.colour(ink, (strong ? 1 : 0.6) * dim));
    }

  private:
    static ImVec2 place(const Vec2& at) { return corner(at.x(), at.y()); }
    [[nodiscard]] Vec2 shown(const Vec3& rod) const {
        return desk_.camera().shown_at(turned_rod(desk_.turn().angle_rad) * rod, scene_).head<2>();
    }
    void dashes(const Vec2& from, const Vec2& to, ImU32 colour, float width) {
        const Vec2 run = to - from;
        const double whole = run.norm(), dash = ui_.px(6), gap = ui_.px(4);
        for (double at = 0; at < whole; at += dash + gap) {
            const double end = std::min(at + dash, whole);
            list_.AddLine(place(from + at / whole * run), place(from + end / whole * run), colour, width);
        }
    }

    Ui& ui_;
    const Desk& desk_;
    const Area& scene_;
    ImDrawList& list_;
};

}  // namespace

void draw_cloud_lines(Ui& ui, const Desk& desk, const Area& scene) {
    if (!desk.cloud().on() || !desk.cloud().found() || desk.cloud().found()->empty()) return;
    const std::vector<scene::DrawnMounting>& all = *desk.cloud().found();
    Lines lines(ui, desk, scene);
    for (const scene::DrawnMounting& mounting : all) lines.draw(mounting, false);
    lines.draw(all[desk.cloud().at()], true);
}

}  // namespace evenspit::viewer
