// SPDX-License-Identifier: MIT
#include "body/lumps.h"

#include <limits>

namespace evenspit {

double Lumps::with_cuts(double d, const Vec3& p) const {
    for (const Lump& cut : cuts_) d = carve(d, cut.distance(p), cut.fillet);
    return d;
}

double Lumps::distance(const Vec3& p) const {
    double d = std::numeric_limits<double>::infinity();
    for (const Region& region : regions_) {
        for (const Lump& lump : region.lumps) d = blend(d, lump.distance(p), lump.fillet);
    }
    return with_cuts(d, p);
}

RegionLayers Lumps::layers(const Vec3& p) const {
    RegionLayers layers;
    double d = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < regions_.size(); ++i) {
        for (const Lump& lump : regions_[i].lumps) d = blend(d, lump.distance(p), lump.fillet);
        layers.add(static_cast<std::uint8_t>(i), with_cuts(d, p));
    }
    return layers;
}

std::uint8_t Lumps::nearest_region(const Vec3& p) const {
    std::size_t nearest = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < regions_.size(); ++i) {
        for (const Lump& lump : regions_[i].lumps) {
            const double d = lump.distance(p);
            if (d >= least) continue;
            least = d;
            nearest = i;
        }
    }
    return static_cast<std::uint8_t>(nearest);
}

std::vector<std::string> Lumps::region_names() const {
    std::vector<std::string> names;
    for (const Region& region : regions_) names.push_back(region.name);
    return names;
}

}  // namespace evenspit
