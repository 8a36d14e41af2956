// SPDX-License-Identifier: MIT
#include "body/bone_setter.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "body/tube.h"

namespace evenspit::body {
namespace {

constexpr double apart = 2e-3;           // between bones, m; more than a facet bulges
constexpr double least_radius = 0.4e-3;  // where there is no room the bone goes on as a thread

double rounded_ends(double s, double share) {
    const double from_end = std::min(s, 1 - s) / share;
    return from_end >= 1 ? 1.0 : std::sqrt(std::max(from_end * (2 - from_end), 0.0));
}

double radius_of(const BoneProfile& profile, const Vec3& up, const Vec3& outward, double s) {
    const double from_middle = 2 * std::abs(s - 0.5);
    const double knob = 1 + (profile.knob - 1) * from_middle * from_middle * from_middle * from_middle;
    const double c = outward.dot(up);
    const double ellipse =
        1 / std::hypot(c / profile.high, std::sqrt(std::max(0.0, 1 - c * c)) / profile.wide);
    return rounded_ends(s, profile.taper) * knob * ellipse;
}

}  // namespace

bool BoneSetter::is_free(const Vec3& p, double beside_bones) const {
    const Vec3 at(p.x(), mirrored_ ? -p.y() : p.y(), p.z());
    if (flesh_(at) > -least_cover) return false;
    return std::none_of(placed_.begin(), placed_.end(), [&](const Placed& bone) {
        return bone.box.exteriorDistance(at) < beside_bones &&
               (bone.solid.closest(at).distance < beside_bones || bone.solid.contains(at));
    });
}

double BoneSetter::room(const Vec3& at, const Vec3& outward, double want) const {
    constexpr int steps = 4;
    double inside = 0, outside = want;
    for (int i = 1; i <= steps; ++i) {
        const double r = want * i / steps;
        if (!is_free(at + r * outward, apart)) {
            outside = r;
            break;
        }
        inside = r;
    }
    if (inside == want) return want;
    for (int round = 0; round < 12; ++round) {
        const double r = 0.5 * (inside + outside);
        (is_free(at + r * outward, apart) ? inside : outside) = r;
    }
    return std::max(inside, least_radius);
}

// A parabola; every stretch of it is one again.
struct BoneSetter::Line {
    Vec3 from, to, bend;
    [[nodiscard]] Vec3 off_chord(double s) const { return 4 * s * (1 - s) * bend; }
    [[nodiscard]] Vec3 at(double s) const { return from + s * (to - from) + off_chord(s); }
    [[nodiscard]] Line stretch(double low, double high) const {
        return {at(low), at(high), (high - low) * (high - low) * bend};
    }
};

// Keeps the longest stretch of the line that is free. Beside other bones the line keeps the bone's own
// thickness off, since a bone squeezed against another would meet it between its corners.
bool BoneSetter::shorten(Line& line, double thickness) const {
    const auto free_at = [&](double s) { return is_free(line.at(s), apart + thickness); };
    constexpr int steps = 32;
    int first = 0, last = -1;  // longest run of free samples
    for (int i = 0, run = 0; i <= steps; ++i) {
        run = free_at(static_cast<double>(i) / steps) ? run + 1 : 0;
        if (run > last - first + 1) {
            last = i;
            first = i - run + 1;
        }
    }
    if (last <= first) return false;
    const auto edge = [&](double inside, double outside) {
        for (int round = 0; round < 12; ++round) {
            const double s = 0.5 * (inside + outside);
            (free_at(s) ? inside : outside) = s;
        }
        return inside;
    };
    const double low =
        first == 0 ? 0.0 : edge(static_cast<double>(first) / steps, static_cast<double>(first - 1) / steps);
    const double high =
        last == steps ? 1.0 : edge(static_cast<double>(last) / steps, static_cast<double>(last + 1) / steps);
    line = line.stretch(low, high);
    return true;
}

bool BoneSetter::lay(const std::string& name, std::uint8_t region, const Vec3& from, const Vec3& to,
                     const BoneProfile& profile) {
    Line line{from, to, profile.bend};
    if (!shorten(line, std::min(profile.high, profile.wide))) return false;
    const TubeOptions options{.from = line.from, .to = line.to, .up = profile.up, .around = 12, .along = 20};
    const Vec3 chord = line.to - line.from;
    const Vec3 axis = chord.normalized();
    const Vec3 up = (profile.up - profile.up.dot(axis) * axis).normalized();
    TriangleMesh mesh = tube_mesh(options, [&](const Vec3&, const Vec3& outward, double s) {
        return room(line.at(s), outward, std::max(radius_of(profile, up, outward, s), least_radius));
    });
    // Rings stay across the chord and slide along the bend.
    for (Vec3& v : mesh.vertices) {
        v += line.off_chord(std::clamp((v - line.from).dot(chord) / chord.squaredNorm(), 0.0, 1.0));
    }
    lay_mesh(name, region, std::move(mesh));
    return true;
}

void BoneSetter::lay_mesh(const std::string& name, std::uint8_t region, TriangleMesh mesh) {
    if (mirrored_) mesh = mirror_image(std::move(mesh));
    placed_.push_back({bounds(mesh), SolidQueries(mesh)});
    bones_.push_back({name, region, std::move(mesh)});
}

}  // namespace evenspit::body
