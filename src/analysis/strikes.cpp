// SPDX-License-Identifier: MIT
#include "analysis/strikes.h"

#include <algorithm>
#include <cmath>

namespace evenspit {

double sag_at(const RodResult& rod, double at_m) {
    const auto& line = rod.sag;
    if (line.empty()) return 0;
    const auto after = std::find_if(line.begin(), line.end(), [&](const auto& p) { return p[0] >= at_m; });
    if (after == line.begin()) return line.front()[1];
    if (after == line.end()) return line.back()[1];
    const auto before = std::prev(after);
    const double run = (*after)[0] - (*before)[0];
    const double share = run > 0 ? (at_m - (*before)[0]) / run : 1;
    return (*before)[1] + share * ((*after)[1] - (*before)[1]);
}

double sag_toward(const SurfaceGap& gap) {
    const Vec2 away = gap.on_surface.tail<2>();
    const double far = away.norm();
    return far > 0 ? -away.y() / far : 0;
}

std::vector<Strike> strikes(const Clearance& clearance, const RodResult& rod,
                            const std::vector<std::vector<Vec2>>& walls) {
    std::vector<Strike> result;
    for (std::size_t s = 0; s < clearance.surfaces.size(); ++s) {
        const SurfaceGap& gap = clearance.surfaces[s];
        if (gap.gap_m >= 0) continue;
        const double toward = sag_toward(gap);
        // It is known to strike where it comes nearest, however coarse the wall's stations are.
        Strike strike{s, gap.part, gap.at_m, gap.at_m, gap.on_surface};
        bool within = false, holds_nearest = false;
        std::vector<Strike> found;
        const std::vector<Vec2> none;
        for (const Vec2& wall : s < walls.size() ? walls[s] : none) {
            const double radius = clearance.outline.radius_at(wall.x());
            const bool struck = radius > 0 && radius + toward * sag_at(rod, wall.x()) > wall.y();
            if (struck && !within) found.push_back({s, gap.part, wall.x(), wall.x(), gap.on_surface});
            if (struck) found.back().to_m = wall.x();
            within = struck;
        }
        for (const Strike& stretch : found)
            holds_nearest = holds_nearest || (stretch.from_m <= gap.at_m && gap.at_m <= stretch.to_m);
        if (!holds_nearest) found.push_back(strike);
        result.insert(result.end(), found.begin(), found.end());
    }
    return result;
}

}  // namespace evenspit
