// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "body/bird_landmarks.h"
#include "body/bird_shape.h"
#include "body/mesher.h"
#include "body/tube.h"

namespace evenspit::body {

// The swing of a right limb about the upright line through its root.
TriangleMesh BirdShape::swung_right(const Limb& limb, double angle_rad) {
    // Poses close enough together that their union is the swept solid to a millimetre or two.
    constexpr int poses = 15;
    const double step_rad = angle_rad / (poses - 1);
    std::vector<Pose> back;  // from a pose to the folded place
    for (int i = 0; i < poses; ++i) {
        Pose pose = Pose::Identity();
        pose.translate(limb.root);
        pose.rotate(Eigen::AngleAxisd(angle_rad * i / (poses - 1), Vec3::UnitZ()));
        pose.translate(-limb.root);
        back.push_back(pose.inverse());
    }
    const auto azimuth = [&limb](const Vec3& p) {
        return std::atan2(p.y() - limb.root.y(), p.x() - limb.root.x());
    };
    const double hub_azimuth = azimuth(limb.hub);
    constexpr double spacing = mm * 16;
    // Only near the surface do a place's neighbours ask for more than its side.
    constexpr double deep = 1.5 * spacing;
    const Field field = [&](const Vec3& p) {
        // First the pose that points at the place, as likely as any to be the nearest.
        const double turned = std::remainder(azimuth(p) - hub_azimuth, 2 * std::numbers::pi);
        const int first = std::clamp(static_cast<int>(std::lround(turned / step_rad)), 0, poses - 1);
        const double first_distance = limb.distance(back[static_cast<std::size_t>(first)] * p);
        double least = first_distance;
        // From one pose to the next the place moves by so much against the limb, and its distance changes by
        // no more: poses that cannot come nearer are passed over. The allowance covers rounding.
        const double moved =
            2 * std::hypot(p.x() - limb.root.x(), p.y() - limb.root.y()) * std::abs(std::sin(0.5 * step_rad));
        constexpr double rounding = 1e-9;
        for (const int way : {1, -1}) {
            double distance = first_distance;
            for (int i = first;;) {
                const double idle = (distance - least - rounding) / moved;
                i += way * (idle < poses ? 1 + static_cast<int>(std::max(idle, 0.0)) : poses);
                if (i < 0 || i >= poses || least < -deep) break;
                const Vec3 at = back[static_cast<std::size_t>(i)] * p;
                distance = (at - limb.hub).norm() - limb.reach;  // at least so far
                if (distance < least) distance = limb.distance(at);
                least = std::min(least, distance);
            }
        }
        return least;
    };
    const double radius = (limb.hub - limb.root).norm() + limb.reach;
    const Box3 box(limb.root - Vec3(radius, radius, limb.reach + mm * 60),
                   limb.root + Vec3(radius, radius, limb.reach + mm * 60));
    // Distances of round cones, blended, are never steeper than the distance itself.
    constexpr double steepest = 1.01;
    return mesh_field(field, {.box = box, .spacing = spacing, .steepest = steepest});
}

BirdShape::SwungPair BirdShape::swung_pair(std::optional<Limb> LimbPair::*limb,
                                           const std::array<bool, 2>& there, bool alike,
                                           double angle_rad) const {
    const auto right = static_cast<std::size_t>(Side::right), left = static_cast<std::size_t>(Side::left);
    SwungPair pair;
    if (there[right]) pair[right] = swung_right((sides_[right].*limb).value(), angle_rad);
    if (there[left]) {
        pair[left] = mirror_image(
            there[right] && alike ? *pair[right] : swung_right((sides_[left].*limb).value(), angle_rad));
    }
    return pair;
}

// An untied leg falls outward about the hip, an untied wing opens about the shoulder; angles from memory of
// loose birds.
BirdShape::SwungPair BirdShape::swung_legs() const {
    const bool alike = limbs_.drumstick[0] == limbs_.drumstick[1];
    return swung_pair(&LimbPair::leg, limbs_.thigh, alike, -50 * std::numbers::pi / 180);
}
BirdShape::SwungPair BirdShape::swung_wings() const {
    return swung_pair(&LimbPair::wing, limbs_.wing, true, -60 * std::numbers::pi / 180);
}

}  // namespace evenspit::body
