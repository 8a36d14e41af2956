// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "body/field.h"
#include "body/mesher.h"
#include "body/region_layers.h"

namespace evenspit::body {

/// A body put together from lumps: each is blended to all before it, and belongs to a region.
class Lumps {
  public:
    /// Starts a region; the lumps that follow belong to it.
    /// \pre no patch yet
    void region(std::string name) { regions_.push_back({std::move(name), {}}); }

    /// Adds a solid to the region begun last. Solid: anything with distance(const Vec3&) and bound().
    template <class Solid>
    void add(const Solid& solid, double fillet) {
        regions_.back().lumps.push_back(
            {[solid](const Vec3& p) { return solid.distance(p); }, fillet, solid.bound()});
    }
    /// The same solid on both sides of y = 0.
    template <class Solid>
    void add_pair(const Solid& solid, double fillet) {
        // Near side first, so that mirrored places give the same number.
        regions_.back().lumps.push_back(
            {[solid](const Vec3& p) { return solid.distance(near_side(p)); }, fillet, solid.bound(), true});
    }
    void add_distance(Field distance, double fillet) {
        regions_.back().lumps.push_back({std::move(distance), fillet});
    }

    /// Takes away what is inside a tool from the regions begun so far, the edge rounded over `width`.
    void cut(Field tool, double width) { cuts_.push_back({std::move(tool), width, regions_.size()}); }

    /// Names the surface inside `where`, whatever lies below: a cut face, the end of a bone. A name that no
    /// region has stands for no flesh.
    void patch(const std::string& name, Field where);

    [[nodiscard]] double distance(const Vec3& p) const;
    /// Those after the first whose field is `full` or less are left out.
    [[nodiscard]] RegionLayers layers(const Vec3& p,
                                      double full = -std::numeric_limits<double>::infinity()) const;
    /// The last patch that holds a place, else the region of the lump nearest to it.
    [[nodiscard]] std::uint8_t region_on_surface(const Vec3& p) const;
    /// Regions, then patches.
    [[nodiscard]] std::vector<std::string> region_names() const;

  private:
    struct Lump {
        Field distance;
        double fillet = 0;
        FieldBound bound{};
        bool is_pair = false;  // the bound holds for the near side
    };
    struct Region {
        std::string name;
        std::vector<Lump> lumps;
    };
    struct Cut {
        Field tool;
        double width;
        std::size_t regions;  // begun before it
    };
    struct Patch {
        std::size_t name;  // index into region_names()
        Field where;
    };
    static Vec3 near_side(const Vec3& p) { return {p.x(), std::abs(p.y()), p.z()}; }
    static bool is_beyond(const Lump& lump, const Vec3& p, double reach) {
        return lump.bound.at(lump.is_pair ? near_side(p) : p) >= reach;
    }
    static double with_lumps(double d, const Region& region, const Vec3& p);
    // What is left after the cuts that were made when `from` to `to` regions had been begun.
    [[nodiscard]] double with_cuts(double d, const Vec3& p, std::size_t from, std::size_t to) const;

    std::vector<Region> regions_;
    std::vector<Cut> cuts_;
    std::vector<Patch> patches_;
    std::vector<std::string> patch_names_;
};

}  // namespace evenspit::body
