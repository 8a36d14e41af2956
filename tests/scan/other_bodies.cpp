// SPDX-License-Identifier: MIT
#include "other_bodies.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include "body/mesher.h"
#include "geometry/bvh.h"

namespace evenspit::test {

namespace {

class Draws {
  public:
    explicit Draws(std::uint64_t seed) : dice_(seed) {}
    double between(double from, double to) {
        return from + (to - from) * std::uniform_real_distribution<double>()(dice_);
    }
    // A length and its usual scatter.
    double about(double length, double share = 0.1) {
        return length * std::exp(share * std::normal_distribution<double>()(dice_));
    }

  private:
    std::mt19937_64 dice_;
};

// About the distance from an ellipsoid, negative inside: the implicit function over its gradient.
double ellipsoid(const Vec3& p, const Vec3& half) {
    const double k = p.cwiseQuotient(half).norm();
    const double slope = p.cwiseQuotient(half.cwiseProduct(half)).norm();
    return slope > 1e-9 ? k * (k - 1) / slope : -half.minCoeff();
}

// Distance from a round rod between two places whose radius changes along it.
double capsule(const Vec3& p, const Vec3& a, const Vec3& b, double at_a, double at_b) {
    const double t = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
    return (p - a - t * (b - a)).norm() - (at_a + t * (at_b - at_a));
}

// The lesser of two distances, rounded where they meet over a width (polynomial, from memory).
double joined(double a, double b, double width) {
    const double t = std::max(width - std::abs(a - b), 0.0) / width;
    return std::min(a, b) - t * t * width / 4;
}

// Lumps of the skin that no formula of a body has.
std::function<double(const Vec3&)> lumps(Draws& draw) {
    struct Lump {
        Vec3 middle;
        double height, reach;
    };
    std::vector<Lump> all;
    for (int k = 0; k < 24; ++k) {
        all.push_back({{draw.between(-0.2, 0.2), draw.between(-0.13, 0.13), draw.between(-0.1, 0.1)},
                       draw.between(-0.005, 0.005),
                       draw.between(0.02, 0.06)});
    }
    return [all](const Vec3& p) {
        double sum = 0;
        for (const Lump& lump : all)
            sum += lump.height * std::exp(-(p - lump.middle).squaredNorm() / (lump.reach * lump.reach));
        return sum;
    };
}

TriangleMesh meshed(const std::function<double(const Vec3&)>& field, double reach, double spacing) {
    return body::mesh_field(field,
                            {.box = Box3(Vec3::Constant(-reach), Vec3::Constant(reach)), .spacing = spacing});
}

}  // namespace

namespace {

// What birds of lumps are like, m, at their middle size.
struct UsualBird {
    Vec3 trunk, breast;
    double breast_out = 0, breast_up = 0, low = 0;
    Vec3 hip, knee, leg_end;  // of the left leg
    double leg_thick = 0;
    Vec3 shoulder, wing_end;  // of the left wing
    double wing_thick = 0, neck_z = 0;
    double least_flat = 0, most_flat = 0;  // how much of the back is pressed flat
};

TrueBody bird_of_lumps(Draws draw, const UsualBird& usual) {
    const auto about = [&](const Vec3& v, double side, const Vec3& shares) {
        const double x = draw.about(v.x(), shares.x());
        const double y = side * draw.about(v.y(), shares.y());
        return Vec3(x, y, draw.about(v.z(), shares.z()));
    };
    const Vec3 trunk(draw.about(usual.trunk.x()), draw.about(usual.trunk.y()), draw.about(usual.trunk.z()));
    const Vec3 breast(draw.about(usual.breast.x()), draw.about(usual.breast.y()),
                      draw.about(usual.breast.z()));
    const double breast_out = draw.about(usual.breast_out), breast_up = draw.about(usual.breast_up),
                 low = draw.about(usual.low);
    struct Leg {
        Vec3 hip, knee, end;
        double thick;
    };
    std::array<Leg, 2> legs;
    std::array<std::pair<Vec3, Vec3>, 2> wings;
    std::array<double, 2> wing_thick{};
    for (std::size_t k = 0; k < 2; ++k) {
        const double side = k == 0 ? 1 : -1;
        const Vec3 hip = about(usual.hip, side, {0.1, 0.06, 0.1}),
                   knee = about(usual.knee, side, {0.1, 0.06, 0.1}),
                   end = about(usual.leg_end, side, {0.05, 0.2, 0.2});
        legs[k] = {hip, knee, end, draw.about(usual.leg_thick)};
        wings[k].first = about(usual.shoulder, side, {0.1, 0.05, 0.1});
        wings[k].second = about(usual.wing_end, side, {0.1, 0.05, 0.1});
        wing_thick[k] = draw.about(usual.wing_thick);
    }
    const double neck = draw.about(0.185, 0.05), tail = draw.about(-0.175, 0.05);
    const double flat = draw.between(usual.least_flat, usual.most_flat);
    const auto bumps = lumps(draw);
    const double scale = draw.between(0.6, 1.15);
    const auto field = [&](const Vec3& p) {
        double d = ellipsoid(p + Vec3(0, 0, low), trunk);
        for (const double side : {1.0, -1.0})
            d = joined(d, ellipsoid(p - Vec3(0.04, side * breast_out, breast_up), breast), 0.03);
        for (std::size_t k = 0; k < 2; ++k) {
            const Leg& leg = legs[k];
            const double thigh = capsule(p, leg.hip, leg.knee, 1.2 * leg.thick, 1.05 * leg.thick);
            const double drum = capsule(p, leg.knee, leg.end, leg.thick, 0.4 * leg.thick);
            d = joined(d, joined(thigh, drum, 0.015), 0.02);
            d = joined(d, capsule(p, wings[k].first, wings[k].second, wing_thick[k], 0.8 * wing_thick[k]),
                       0.012);
        }
        d = joined(d, capsule(p, {0.12, 0, -0.01}, {neck, 0, usual.neck_z}, 0.034, 0.022), 0.02);
        d = joined(d, capsule(p, {-0.12, 0, -0.02}, {tail, 0, -0.055}, 0.03, 0.014), 0.02);
        d += bumps(p);
        return -joined(-d, p.z() + low + trunk.z() - flat, 0.008);
    };
    TrueBody body;
    body.bird = true;
    body.scale = scale;
    body.skin = scaled(meshed(field, 0.30, 0.008), scale);
    return body;
}

}  // namespace

TrueBody other_bird(std::uint64_t seed) {
    return bird_of_lumps(Draws(7000 + seed), {.trunk = {0.155, 0.085, 0.070},
                                              .breast = {0.105, 0.052, 0.060},
                                              .breast_out = 0.036,
                                              .breast_up = 0.038,
                                              .low = 0.022,
                                              .hip = {-0.04, 0.075, -0.03},
                                              .knee = {0.01, 0.095, 0.02},
                                              .leg_end = {-0.19, 0.055, 0.03},
                                              .leg_thick = 0.038,
                                              .shoulder = {0.115, 0.085, -0.01},
                                              .wing_end = {0.02, 0.115, -0.035},
                                              .wing_thick = 0.028,
                                              .neck_z = -0.005,
                                              .least_flat = 0.004,
                                              .most_flat = 0.014});
}

TrueBody flabby_bird(std::uint64_t seed) {
    // Untied and soft: the breast sunk, the belly spread, legs and wings fallen out to the board.
    return bird_of_lumps(Draws(7300 + seed), {.trunk = {0.160, 0.100, 0.056},
                                              .breast = {0.110, 0.060, 0.046},
                                              .breast_out = 0.040,
                                              .breast_up = 0.022,
                                              .low = 0.020,
                                              .hip = {-0.05, 0.090, -0.03},
                                              .knee = {-0.03, 0.130, -0.025},
                                              .leg_end = {-0.18, 0.110, -0.035},
                                              .leg_thick = 0.034,
                                              .shoulder = {0.110, 0.095, -0.025},
                                              .wing_end = {0.04, 0.150, -0.040},
                                              .wing_thick = 0.026,
                                              .neck_z = -0.030,
                                              .least_flat = 0.010,
                                              .most_flat = 0.022});
}

TrueBody other_roast(std::uint64_t seed) {
    Draws draw(8000 + seed);
    const int kind = int((seed / 2) % 4);  // so that even and odd seeds have all of them
    const double bend = draw.between(0.1, 0.5), thick = draw.about(0.055), reach = draw.about(0.12);
    const Vec3 block(draw.about(0.10), draw.about(0.075), draw.about(0.06));
    const double flat = draw.between(0.003, 0.012), lean = draw.between(-0.2, 0.2);
    const auto bumps = lumps(draw);
    const double scale = draw.between(0.7, 1.15);
    const auto shape = [&](const Vec3& p) -> double {
        if (kind == 0) {  // a roll along an arc
            const double radius = 2 * reach / bend;
            const Vec3 middle(0, -radius, 0);
            const double angle =
                std::clamp(std::atan2(p.x(), p.y() - middle.y()), -reach / radius, reach / radius);
            const Vec3 on = middle + radius * Vec3(std::sin(angle), std::cos(angle), 0);
            return (p - on).norm() - thick * (1 + lean * p.x() / reach);
        }
        if (kind == 1) {  // a leg: a haunch and a shank
            const double haunch = ellipsoid(p - Vec3(0.05, 0, 0), {reach, 0.8 * reach, 1.2 * thick});
            return joined(haunch,
                          capsule(p, {-0.02, 0.01, 0}, {-0.19, 0.03 * (1 + lean), 0.01}, 0.045, 0.022), 0.05);
        }
        if (kind == 2) {  // a block with rounded edges, one end thinner
            const Vec3 half = block * (1 + 0.5 * lean * p.x() / block.x());
            const Vec3 q = p.cwiseAbs() - half + Vec3::Constant(0.03);
            return q.cwiseMax(0.0).norm() + std::min(q.maxCoeff(), 0.0) - 0.03;
        }
        // A saddle: two loins along a spine.
        double d = 1;
        for (const double side : {1.0, -1.0}) {
            const Vec3 q = p - Vec3(0, side * 0.045, 0);
            d = joined(d, capsule(q, {-reach, 0.01 * side, 0.1 * lean}, {reach, 0, 0}, thick, 0.85 * thick),
                       0.03);
        }
        return d;
    };
    const double lowest = kind == 2 ? block.z() : kind == 1 ? 1.2 * thick : thick;
    TrueBody body;
    body.scale = scale;
    body.skin = scaled(
        meshed([&](const Vec3& p) { return -joined(-(shape(p) + bumps(p)), p.z() + lowest - flat, 0.008); },
               0.30, 0.008),
        scale);
    return body;
}

TrueBody rib_roast(std::uint64_t seed) {
    Draws draw(9000 + seed);
    const double length = draw.about(0.11), inner = draw.about(0.10), thick = draw.about(0.055);
    const double opening = draw.between(0.7, 0.95);  // half the arc, rad
    const auto bumps = lumps(draw);
    TrueBody body;
    body.scale = draw.between(0.8, 1.1);
    const auto field = [&](const Vec3& p) {
        // An arch across y, its hollow toward -z, its middle thicker than its feet.
        const Vec2 across(p.y(), p.z() + inner);
        const double angle = std::atan2(across.x(), across.y());
        const double half = 0.5 * thick * (1 - 0.25 * std::pow(angle / opening, 2));
        const Vec3 q(std::abs(p.x()) - length + 0.02,
                     (std::abs(angle) - opening) * (inner + 0.5 * thick) + 0.02,
                     std::abs(across.norm() - inner - 0.5 * thick) - half + 0.02);
        return q.cwiseMax(0.0).norm() + std::min(q.maxCoeff(), 0.0) - 0.02 + bumps(p);
    };
    body.skin = scaled(meshed(field, 0.30, 0.008), body.scale);
    return body;
}

TrueBody fish(std::uint64_t seed) {
    Draws draw(9500 + seed);
    const Vec3 half(draw.about(0.20), draw.about(0.06), draw.about(0.026));
    const auto bumps = lumps(draw);
    const double tail = draw.about(0.05);
    TrueBody body;
    body.scale = draw.between(0.8, 1.1);
    const auto field = [&](const Vec3& p) {
        const double taper = 1 - 0.25 * std::clamp(p.x() / half.x(), -1.0, 1.0);
        double d = ellipsoid({p.x(), p.y() / taper, p.z() / taper}, half);
        d = joined(d, ellipsoid(p - Vec3(half.x() + 0.01, 0, 0), {0.035, tail, 0.008}), 0.02);
        return d + 0.4 * bumps(p);
    };
    body.skin = scaled(meshed(field, 0.32, 0.008), body.scale);
    return body;
}

TriangleMesh closed_by_app(const TriangleMesh& body, AppClosing how, std::uint64_t seed) {
    Draws draw(9900 + seed);
    const Box3 box = bounds(body);
    const double lowest = box.min().z();
    // Above it the cameras saw the skin.
    const double rim = lowest + draw.between(0.12, 0.3) * box.sizes().z();
    const double depth = draw.between(0.4, 0.8) * 0.5 * box.sizes().y();
    const double rough = draw.between(0.0003, 0.0008);
    std::vector<std::pair<Vec3, double>> waves;  // what averaging leaves of a scan's noise
    for (int k = 0; k < 12; ++k) {
        const Vec3 along(draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1));
        waves.emplace_back(2 * std::numbers::pi / draw.between(0.010, 0.025) * along.normalized(),
                           draw.between(0, 6.28));
    }
    const SolidQueries solid(body);
    const auto off = [&](const Vec3& p) {
        const double distance = solid.closest(p).distance;
        return solid.contains(p) ? -distance : distance;
    };
    double deepest = 0;
    for (double x = box.min().x(); x < box.max().x(); x += 0.008) {
        for (double y = box.min().y(); y < box.max().y(); y += 0.008)
            deepest = std::max(deepest, -off({x, y, rim}));
    }
    const auto field = [&](const Vec3& p) {
        if (p.z() >= rim) {
            double wave = 0;
            for (const auto& [along, phase] : waves) wave += std::sin(along.dot(p) + phase);
            return off(p) + rough * wave * std::sqrt(2.0 / double(waves.size()));
        }
        const double at_rim = off({p.x(), p.y(), rim});
        switch (how) {
            case AppClosing::bulge:
                return at_rim + deepest * std::pow((rim - p.z()) / depth, 2);
            case AppClosing::floor:
                return std::max(at_rim, lowest - p.z());
            case AppClosing::cap:
                break;
        }
        return std::max(at_rim, rim - p.z());
    };
    const Vec3 more(0.02, 0.02, 0.02 + depth);
    const TriangleMesh made = body::mesh_field(
        field,
        {.box = Box3(box.min() - more, box.max() + Vec3::Constant(0.02)), .spacing = 0.006, .steepest = 10});
    return made;
}

TriangleMesh sagged(const TriangleMesh& body, const Mat3& lies, double share) {
    const double low = 1 - share, wide = 1 / std::sqrt(low);
    const Mat3 sink = lies.transpose() * Vec3(wide, wide, low).asDiagonal() * lies;
    TriangleMesh sunk = body;
    for (Vec3& v : sunk.vertices) v = sink * v;
    return sunk;
}

}  // namespace evenspit::test
