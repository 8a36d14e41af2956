// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "body/mesher.h"
#include "geometry/bvh.h"
#include "geometry/mesh.h"
#include "geometry/types.h"

namespace evenspit::body {

/// A bone as a closed mesh, and the region of the body that it belongs to.
struct Bone {
    std::string name;
    std::uint8_t region = 0;
    TriangleMesh mesh;  ///< outward, strictly inside the flesh, apart from all other bones
};

/// How a bone's thickness runs along its line.
struct BoneProfile {
    double high = 0;      ///< half thickness toward `up`, m
    double wide = 0;      ///< half thickness across, m
    double knob = 1;      ///< thickness at either end over that in the middle
    double taper = 0.15;  ///< share of the length over which each end is rounded off
    Vec3 up = Vec3::UnitZ();
    Vec3 bend = Vec3::Zero();  ///< the line's middle off the straight one, along a parabola, m
};

/// Lays bones into flesh one after the other. Each is thinned and shortened where it would come too near the
/// flesh's surface or a bone that lies there already, so that the bones fit every form of a body.
class BoneSetter {
  public:
    /// `flesh` must outlive the setter. Lengths (cover, gap between bones) are for a body of some kilograms.
    explicit BoneSetter(const Field& flesh) : flesh_(flesh) {}

    /// A bone along a line, or along the longest stretch of it that has room; false (and nothing is laid) if
    /// none has.
    bool lay(const std::string& name, std::uint8_t region, const Vec3& from, const Vec3& to,
             const BoneProfile& profile);
    /// Lays a ready mesh as it stands.
    void lay_mesh(const std::string& name, std::uint8_t region, TriangleMesh mesh);
    /// How far from `at` toward `outward` a bone may reach, at most `want`.
    [[nodiscard]] double room(const Vec3& at, const Vec3& outward, double want) const;

    /// Until called again, bones are laid in the mirror image across y = 0.
    void mirror(bool on) { mirrored_ = on; }

    [[nodiscard]] std::vector<Bone> take() { return std::move(bones_); }

    /// No bone comes nearer to the flesh's surface, m.
    static constexpr double least_cover = 3e-3;

  private:
    [[nodiscard]] bool is_free(const Vec3& p, double beside_bones) const;
    struct Line;
    bool shorten(Line& line, double thickness) const;

    struct Placed {
        Box3 box;
        SolidQueries solid;
    };
    const Field& flesh_;
    std::vector<Placed> placed_;
    std::vector<Bone> bones_;
    bool mirrored_ = false;
};

}  // namespace evenspit::body
