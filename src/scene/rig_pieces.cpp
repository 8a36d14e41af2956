// SPDX-License-Identifier: MIT
#include "scene/rig_pieces.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <variant>

#include "analysis/placed.h"

namespace evenspit::scene {
namespace {

// What the load file does not tell and the picture needs.
constexpr double tine_point_m = 0.014;
constexpr double lump_size_m = 0.017;

Piece made(ShapeBuilder& builder, Matter matter, Thing thing, bool turns = false) {
    return {builder.take(), Pose::Identity(), matter, thing, turns, false};
}

/// Legs from a bar at the rod to a plate beyond the back, at station 0 and clock 0.
void bracket_shape(ShapeBuilder& builder, const Fork& bracket) {
    constexpr double nut_m = 0.007, beyond_m = 0.006;
    Vec3 first = Vec3::Zero(), last = Vec3::Zero();
    double thick_m = 0;
    for (const Tine& leg : bracket.tines) {
        Fork still = bracket;
        still.at_m = still.clock_rad = 0;
        const PinLine line = pin_line(still, leg);
        const Vec3 out = (line.tip - line.root).normalized();
        builder.pin(line.root, line.tip, leg.diameter_m / 2);
        builder.pin(Vec3::Zero(), line.root, leg.diameter_m / 2);
        builder.pin(line.tip - beyond_m * out, line.tip - (beyond_m + nut_m) * out, leg.diameter_m);
        thick_m = std::max(thick_m, leg.diameter_m);
        const Vec3 plate = line.tip - (beyond_m + 1.5 * nut_m) * out;
        (first.isZero() ? first : last) = plate;
    }
    const Vec3 along = (last - first).normalized();
    builder.pin(first - thick_m * along, last + thick_m * along, 0.7 * thick_m);
}

/// Wires of a basket: frames across the rod, and wires along them; at station 0 and clock 0, its flat side
/// toward +y.
void basket_shape(ShapeBuilder& builder, const Cage& cage) {
    constexpr double wire_m = 0.0015, frame_m = 0.0025, apart_m = 0.025;
    std::vector<Vec2> ring;
    if (cage.round) {
        constexpr int corners = 24;
        for (int k = 0; k < corners; ++k) {
            const double angle = 2 * std::numbers::pi * k / corners;
            ring.emplace_back(cage.width_m / 2 * std::cos(angle), cage.width_m / 2 * std::sin(angle));
        }
    } else {
        // Height toward the clock, which is +y here; width across.
        const double y = cage.height_m / 2, half = cage.width_m / 2;
        const int across = std::max(2, static_cast<int>(std::lround(cage.width_m / apart_m)));
        for (int k = 0; k < across; ++k) ring.emplace_back(y, half - 2 * half * k / across);
        for (int k = 0; k < across; ++k) ring.emplace_back(-y, -half + 2 * half * k / across);
    }
    const auto at = [](double x, const Vec2& p) { return Vec3(x, p.x(), p.y()); };
    const double end = cage.length_m / 2;
    const int frames = std::max(2, static_cast<int>(std::lround(cage.length_m / (3 * apart_m))));
    for (int k = 0; k <= frames; ++k) {
        const double x = -end + cage.length_m * k / frames;
        for (std::size_t n = 0; n < ring.size(); ++n)
            builder.pin(at(x, ring[n]), at(x, ring[(n + 1) % ring.size()]),
                        k == 0 || k == frames ? frame_m : wire_m);
    }
    for (const Vec2& p : ring) builder.pin(at(-end, p), at(end, p), wire_m);
    // The rod carries it at both ends.
    for (const double x : {-end, end}) {
        builder.pin(at(x, ring.front()), at(x, -ring.front()), frame_m);
        builder.pin({x - hub_length_m / 2, 0, 0}, {x + hub_length_m / 2, 0, 0}, hub_radius_m);
    }
}

/// A heap of coals in a box, whose sides slope as heaped coals do: as wide as the box at its foot, as high as
/// the box all over its top. Lumps lie on top and on the slopes, embers between them.
class CoalBank {
  public:
    explicit CoalBank(const BoxShape& box)
        : box_(box),
          size_(box.max - box.min),
          lump_(std::min({lump_size_m, size_.x() / 3, size_.y() / 3, size_.z() / 2})),
          slope_(std::min(0.6 * size_.z(), 0.12 * std::min(size_.x(), size_.y()))) {}

    std::vector<Piece> pieces(Thing thing) {
        embers();
        const double spacing = 1.55 * lump_, top = box_.max.z() - lump_;
        const Vec2 low = corner(top, 0.8 * lump_), high = opposite(top, 0.8 * lump_);
        for (double y = low.y(); y <= high.y(); y += spacing) {
            for (double x = low.x(); x <= high.x(); x += spacing) lay({x, y, top});
        }
        for (double z = top - 1.1 * lump_; z > box_.min.z(); z -= 1.1 * lump_) row_round(z, spacing);
        return {made(embers_, Matter::ember, thing), made(coals_, Matter::coal, thing)};
    }

  private:
    /// How far the slope has come in at a height.
    [[nodiscard]] double in(double z) const { return slope_ * (z - box_.min.z()) / size_.z(); }
    [[nodiscard]] Vec2 corner(double z, double more) const {
        return Vec2(box_.min.x(), box_.min.y()) + Vec2::Constant(in(z) + more);
    }
    [[nodiscard]] Vec2 opposite(double z, double more) const {
        return Vec2(box_.max.x(), box_.max.y()) - Vec2::Constant(in(z) + more);
    }
    void lay(const Vec3& at) {
        ++number_;
        const double sway = 0.35 * lump_ * std::sin(12.9898 * number_);
        coals_.lump({at.x() + sway, at.y() + 0.35 * lump_ * std::cos(7.233 * number_), at.z()}, lump_,
                    number_);
    }
    void row_round(double z, double spacing) {
        const Vec2 low = corner(z, 0.6 * lump_), high = opposite(z, 0.6 * lump_);
        for (double x = low.x(); x <= high.x(); x += spacing) {
            lay({x, low.y(), z});
            lay({x, high.y(), z});
        }
        for (double y = low.y() + spacing; y < high.y(); y += spacing) {
            lay({low.x(), y, z});
            lay({high.x(), y, z});
        }
    }
    /// What glows between the lumps, a little below their tops.
    void embers() {
        const double z = box_.max.z() - 0.7 * lump_, under = 0.5 * lump_;
        const Vec2 a = corner(box_.min.z(), under), b = opposite(box_.min.z(), under), c = corner(z, under),
                   d = opposite(z, under);
        const std::array<Vec3, 4> foot{Vec3(a.x(), a.y(), box_.min.z()), Vec3(b.x(), a.y(), box_.min.z()),
                                       Vec3(b.x(), b.y(), box_.min.z()), Vec3(a.x(), b.y(), box_.min.z())};
        const std::array<Vec3, 4> head{Vec3(c.x(), c.y(), z), Vec3(d.x(), c.y(), z), Vec3(d.x(), d.y(), z),
                                       Vec3(c.x(), d.y(), z)};
        for (std::size_t i = 0; i < foot.size(); ++i) {
            const std::size_t next = (i + 1) % foot.size();
            embers_.face({foot[i], foot[next], head[next], head[i]});
        }
        embers_.face({head.begin(), head.end()});
        embers_.face({foot.rbegin(), foot.rend()});
    }

    const BoxShape& box_;
    Vec3 size_;
    double lump_, slope_;
    std::uint32_t number_ = 0;
    ShapeBuilder embers_, coals_;
};

struct SurfacePieces {
    Thing thing;
    bool fire;
    const std::vector<Vec3>& face;  ///< of a plane

    std::vector<Piece> operator()(const BoxShape& box) const {
        if (fire) return CoalBank(box).pieces(thing);
        ShapeBuilder builder;
        builder.box(box.min, box.max);
        return {made(builder, Matter::wall, thing)};
    }
    std::vector<Piece> operator()(const PlaneShape& plane) const {
        if (face.size() < 3) return {};
        ShapeBuilder builder;
        builder.face(face);
        const bool level = plane.normal.z() > 0.9;
        Piece result = made(builder, fire ? Matter::ember : level ? Matter::ground : Matter::wall, thing);
        result.free_side = plane.normal;
        result.free_from_m = plane.normal.dot(plane.point);
        return {result};
    }
    std::vector<Piece> operator()(const RevolvedShape& wall) const {
        ShapeBuilder builder;
        builder.half_wall(wall.profile, wall_thickness_m);
        Piece result = made(builder, fire ? Matter::ember : Matter::wall, thing);
        result.pose = Pose(Eigen::Translation3d(wall.centre));
        result.faces_away = true;
        return {result};
    }
    std::vector<Piece> operator()(const MeshShape& mesh) const {
        return {{std::make_shared<const ShapeMesh>(drawn_mesh(*mesh.mesh)), Pose::Identity(),
                 fire ? Matter::ember : Matter::wall, thing, false, false}};
    }
};

}  // namespace

Piece rod_piece(const Rod& rod) {
    ShapeBuilder builder;
    const double point = std::min(4 * rod.width_m, rod.length_m / 4);
    builder.bar({0, 0, 0}, {rod.length_m - point, 0, 0}, rod.section, rod.width_m);
    builder.pin({rod.length_m - point, 0, 0}, {rod.length_m, 0, 0}, rod.width_m / 2, point);
    return made(builder, Matter::rod, {Thing::Kind::rod}, true);
}

void add_motor(const Assembly& assembly, std::vector<Piece>& pieces) {
    ShapeBuilder builder;
    const double seat = assembly.rod.supports_m[0];
    builder.box({seat - 0.130, -0.045, -0.065}, {seat - 0.042, 0.045, 0.040});
    builder.pin({seat - 0.045, 0, 0}, {seat - 0.012, 0, 0}, 0.020);
    pieces.push_back(made(builder, Matter::motor, {Thing::Kind::motor}));
    for (std::size_t end = 0; end < 2; ++end) {
        const double x = assembly.rod.supports_m[end];
        const double ring = 1.1 * assembly.rod.width_m;
        builder.turned_about_x({{x - 0.006, ring},
                                {x - 0.006, ring + 0.007},
                                {x + 0.006, ring + 0.007},
                                {x + 0.006, ring},
                                {x - 0.006, ring}},
                               40);
        builder.box({x - 0.005, -0.006, -ring - 0.060}, {x + 0.005, 0.006, -ring - 0.006});
        builder.box({x - 0.010, -0.028, -ring - 0.068}, {x + 0.010, 0.028, -ring - 0.060});
        pieces.push_back(made(builder, Matter::support, {Thing::Kind::support, end}));
    }
}

Piece fork_piece(const Fork& fork, std::size_t index, const Rod& rod) {
    ShapeBuilder builder;
    const double way = fork.points == Facing::point ? 1 : -1;
    const double hub = std::max(hub_radius_m, 1.2 * rod.width_m);
    if (fork.kind == ForkKind::basket) {
        basket_shape(builder, fork.cage);
    } else {
        builder.pin({-hub_length_m / 2, 0, 0}, {hub_length_m / 2, 0, 0}, hub);
        builder.pin({0, hub * 0.9, 0}, {0, hub + 0.012, 0}, 0.0035);  // the screw
    }
    if (fork.kind == ForkKind::bracket) bracket_shape(builder, fork);
    for (const Tine& tine : fork.tines) {
        if (fork.kind == ForkKind::bracket) break;
        const Vec3 root = rod_point(0, tine.radius_m, tine.clock_rad);
        builder.pin(hub * 0.8 * root.normalized(), root, tine.diameter_m * 0.6);
        builder.ball(root, tine.diameter_m * 0.6, 6);
        builder.pin(root, root + Vec3(way * tine.length_m, 0, 0), tine.diameter_m / 2, tine_point_m);
    }
    Piece result = made(builder, Matter::fork, {Thing::Kind::fork, index}, true);
    result.pose =
        Pose(Eigen::Translation3d(fork.at_m, 0, 0)) * Pose(Eigen::AngleAxisd(fork.clock_rad, Vec3::UnitX()));
    return result;
}

Piece weight_piece(const Counterweight& weight, std::size_t index, const Rod& rod) {
    ShapeBuilder builder;
    const double half = weight.diameter_m / 2, hub = std::max(hub_radius_m, 1.2 * rod.width_m);
    builder.pin({-0.007, 0, 0}, {0.007, 0, 0}, hub);
    if (weight.radius_m > hub) builder.pin({0, 0, 0}, {0, weight.radius_m, 0}, 0.004);
    builder.pin({-half, weight.radius_m, 0}, {half, weight.radius_m, 0}, half);
    Piece result = made(builder, Matter::weight, {Thing::Kind::counterweight, index}, true);
    result.pose = Pose(Eigen::Translation3d(weight.at_m, 0, 0)) *
                  Pose(Eigen::AngleAxisd(weight.clock_rad, Vec3::UnitX()));
    return result;
}

Vec3 over_the_fire(const Cooker& cooker) {
    constexpr double usual_m = 0.4;
    double from = std::numeric_limits<double>::infinity(), to = -from;
    for (const CookerSurface& surface : cooker.surfaces) {
        const auto* const box = std::get_if<BoxShape>(&surface.shape);
        if (!surface.fire || box == nullptr) continue;
        from = std::min(from, box->min.x());
        to = std::max(to, box->max.x());
    }
    return {from < to ? (from + to) / 2 : usual_m, 0, 0};
}

std::vector<Piece> surface_pieces(const CookerSurface& surface, std::size_t index,
                                  const std::vector<Vec3>& face) {
    return std::visit(SurfacePieces{{Thing::Kind::surface, index}, surface.fire, face}, surface.shape);
}

}  // namespace evenspit::scene
