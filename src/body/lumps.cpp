// SPDX-License-Identifier: MIT
#include "body/lumps.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace evenspit::body {

void Lumps::patch(const std::string& name, Field where) {
    std::vector<std::string> names = region_names();
    const auto known = std::find(names.begin(), names.end(), name);
    if (known == names.end()) patch_names_.push_back(name);
    patches_.push_back({static_cast<std::size_t>(known - names.begin()), std::move(where)});
}

// A lump too far to touch even the fillet changes nothing: blend() is the lesser of the two there.
double Lumps::with_lumps(double d, const Region& region, const Vec3& p) {
    for (const Lump& lump : region.lumps) {
        if (!is_beyond(lump, p, d + lump.fillet)) d = blend(d, lump.distance(p), lump.fillet);
    }
    return d;
}

double Lumps::with_cuts(double d, const Vec3& p, std::size_t from, std::size_t to) const {
    for (const Cut& cut : cuts_) {
        if (cut.regions >= from && cut.regions <= to) d = carve(d, cut.tool(p), cut.width);
    }
    return d;
}

double Lumps::distance(const Vec3& p) const {
    double d = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < regions_.size(); ++i) {
        d = with_cuts(with_lumps(d, regions_[i], p), p, i + 1, i + 1);
    }
    return d;
}

RegionLayers Lumps::layers(const Vec3& p, double full) const {
    RegionLayers layers;
    double d = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < regions_.size(); ++i) {
        d = with_cuts(with_lumps(d, regions_[i], p), p, i + 1, i + 1);
        const double field = with_cuts(d, p, i + 2, regions_.size());
        layers.add(static_cast<std::uint8_t>(i), field);
        if (field <= full) break;
    }
    return layers;
}

std::uint8_t Lumps::region_on_surface(const Vec3& p) const {
    for (std::size_t i = patches_.size(); i-- > 0;) {
        if (patches_[i].where(p) < 0) return static_cast<std::uint8_t>(patches_[i].name);
    }
    std::size_t nearest = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < regions_.size(); ++i) {
        for (const Lump& lump : regions_[i].lumps) {
            if (is_beyond(lump, p, least)) continue;
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
    names.insert(names.end(), patch_names_.begin(), patch_names_.end());
    return names;
}

}  // namespace evenspit::body
