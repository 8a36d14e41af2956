// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "body/field.h"
#include "body/mesher.h"
#include "body/region_layers.h"

namespace evenspit {

/// A body put together from lumps: each is blended to all before it, and belongs to a region.
class Lumps {
  public:
    /// Starts a region; the lumps that follow belong to it.
    void region(std::string name) { regions_.push_back({std::move(name), {}}); }

    /// Adds a solid to the region begun last. Solid: anything with distance(const Vec3&).
    template <class Solid>
    void add(const Solid& solid, double fillet) {
        add_distance([solid](const Vec3& p) { return solid.distance(p); }, fillet);
    }
    /// The same solid on both sides of y = 0.
    template <class Solid>
    void add_pair(const Solid& solid, double fillet) {
        // Near side first, so that mirrored places give the same number.
        add_distance(
            [solid](const Vec3& p) {
                return solid.distance({p.x(), std::abs(p.y()), p.z()});
            },
            fillet);
    }
    void add_distance(Field distance, double fillet) {
        regions_.back().lumps.push_back({std::move(distance), fillet});
    }

    /// Takes away what is inside a tool from all lumps together, the edge rounded over `width`.
    void cut(Field tool, double width) { cuts_.push_back({std::move(tool), width}); }

    [[nodiscard]] double distance(const Vec3& p) const;
    [[nodiscard]] RegionLayers layers(const Vec3& p) const;
    /// The region of the lump nearest to a place.
    [[nodiscard]] std::uint8_t nearest_region(const Vec3& p) const;
    [[nodiscard]] std::vector<std::string> region_names() const;

  private:
    struct Lump {
        Field distance;
        double fillet;
    };
    struct Region {
        std::string name;
        std::vector<Lump> lumps;
    };
    [[nodiscard]] double with_cuts(double d, const Vec3& p) const;

    std::vector<Region> regions_;
    std::vector<Lump> cuts_;
};

}  // namespace evenspit
