// SPDX-License-Identifier: MIT
#include "app/viewer/scene.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

#include "analysis/placed.h"
#include "app/viewer/colouring.h"

namespace evenspit::viewer {
namespace {

// What the load file does not tell and the picture needs.
constexpr double wall_thickness_m = 0.014;
constexpr double hub_radius_m = 0.013;
constexpr double hub_length_m = 0.016;
constexpr double tine_point_m = 0.014;
constexpr double lump_size_m = 0.017;
constexpr double ground_reach_m = 0.7;

Piece piece(ShapeBuilder& builder, Matter matter, Thing thing, bool turns = false) {
    return {builder.take(), Pose::Identity(), matter, thing, turns, false};
}

Matter matter_of(const body::Part& part) {
    switch (part.kind) {
        case body::PartKind::flesh:
            return Matter::skin;
        case body::PartKind::bone:
            return Matter::bone;
        case body::PartKind::cavity:
            return Matter::hollow;
        case body::PartKind::stuffing:
            return Matter::stuffing;
    }
    return Matter::skin;
}

Piece rod_piece(const Rod& rod) {
    ShapeBuilder builder;
    const double point = std::min(4 * rod.width_m, rod.length_m / 4);
    builder.bar({0, 0, 0}, {rod.length_m - point, 0, 0}, rod.section, rod.width_m);
    builder.pin({rod.length_m - point, 0, 0}, {rod.length_m, 0, 0}, rod.width_m / 2, point);
    return piece(builder, Matter::rod, {Thing::Kind::rod}, true);
}

void add_motor(const Assembly& assembly, std::vector<Piece>& pieces) {
    ShapeBuilder builder;
    const double seat = assembly.rod.supports_m[0];
    builder.box({seat - 0.130, -0.045, -0.065}, {seat - 0.042, 0.045, 0.040});
    builder.pin({seat - 0.045, 0, 0}, {seat - 0.012, 0, 0}, 0.020);
    pieces.push_back(piece(builder, Matter::motor, {Thing::Kind::motor}));
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
        pieces.push_back(piece(builder, Matter::support, {Thing::Kind::support, end}));
    }
}

Piece fork_piece(const Fork& fork, std::size_t index, const Rod& rod) {
    ShapeBuilder builder;
    const double way = fork.points == Facing::point ? 1 : -1;
    const double hub = std::max(hub_radius_m, 1.2 * rod.width_m);
    builder.pin({-hub_length_m / 2, 0, 0}, {hub_length_m / 2, 0, 0}, hub);
    builder.pin({0, hub * 0.9, 0}, {0, hub + 0.012, 0}, 0.0035);  // the screw
    for (const Tine& tine : fork.tines) {
        const Vec3 root = rod_point(0, tine.radius_m, tine.clock_rad);
        builder.pin(hub * 0.8 * root.normalized(), root, tine.diameter_m * 0.6);
        builder.ball(root, tine.diameter_m * 0.6, 6);
        builder.pin(root, root + Vec3(way * tine.length_m, 0, 0), tine.diameter_m / 2, tine_point_m);
    }
    Piece result = piece(builder, Matter::fork, {Thing::Kind::fork, index}, true);
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
    Piece result = piece(builder, Matter::weight, {Thing::Kind::counterweight, index}, true);
    result.pose = Pose(Eigen::Translation3d(weight.at_m, 0, 0)) *
                  Pose(Eigen::AngleAxisd(weight.clock_rad, Vec3::UnitX()));
    return result;
}

/// A heap of coals that fills a box: lumps near its top, embers between them.
std::vector<Piece> coal_pieces(const BoxShape& box, Thing thing) {
    ShapeBuilder embers, coals;
    const Vec3 size = box.max - box.min;
    const double lump = std::min({lump_size_m, size.x() / 3, size.y() / 3, size.z() / 2});
    embers.box(box.min, box.max - Vec3(0, 0, 0.7 * lump));
    const double spacing = 1.55 * lump;
    std::uint32_t number = 0;
    for (double y = box.min.y() + 0.8 * lump; y <= box.max.y() - 0.8 * lump; y += spacing) {
        for (double x = box.min.x() + 0.8 * lump; x <= box.max.x() - 0.8 * lump; x += spacing) {
            ++number;
            const double sway = 0.35 * lump * std::sin(12.9898 * number);
            coals.lump({x + sway, y + 0.35 * lump * std::cos(7.233 * number), box.max.z() - lump}, lump,
                       number);
        }
    }
    return {piece(embers, Matter::ember, thing), piece(coals, Matter::coal, thing)};
}

struct SurfacePieces {
    Thing thing;
    bool fire;

    std::vector<Piece> operator()(const BoxShape& box) const {
        if (fire) return coal_pieces(box, thing);
        ShapeBuilder builder;
        builder.box(box.min, box.max);
        return {piece(builder, Matter::wall, thing)};
    }
    std::vector<Piece> operator()(const PlaneShape& plane) const {
        // Centred under the middle of a usual rod.
        const Vec3 middle(0.4, 0, 0);
        const Vec3 foot = middle - plane.normal * (middle - plane.point).dot(plane.normal);
        const Vec3 u = plane.normal.unitOrthogonal(), v = plane.normal.cross(u);
        ShapeBuilder builder;
        builder.face({foot + ground_reach_m * (u + v), foot + ground_reach_m * (v - u),
                      foot - ground_reach_m * (u + v), foot + ground_reach_m * (u - v)});
        return {piece(builder, fire ? Matter::ember : Matter::ground, thing)};
    }
    std::vector<Piece> operator()(const RevolvedShape& wall) const {
        ShapeBuilder builder;
        builder.half_wall(wall.profile, wall_thickness_m);
        Piece result = piece(builder, fire ? Matter::ember : Matter::wall, thing);
        result.pose = Pose(Eigen::Translation3d(wall.centre));
        result.faces_away = true;
        return {result};
    }
    std::vector<Piece> operator()(const MeshShape& mesh) const {
        return {{std::make_shared<const ShapeMesh>(drawn_mesh(*mesh.mesh)), Pose::Identity(),
                 fire ? Matter::ember : Matter::wall, thing, false, false}};
    }
};

/// Places of a surface that a whole view has to show.
void add_corners(const SurfaceShape& shape, std::vector<Vec3>& corners) {
    if (const auto* box = std::get_if<BoxShape>(&shape)) {
        const Box3 whole(box->min, box->max);
        for (int corner = 0; corner < 8; ++corner)
            corners.emplace_back(whole.corner(static_cast<Box3::CornerType>(corner)));
    } else if (const auto* wall = std::get_if<RevolvedShape>(&shape)) {
        for (const Vec2& at : wall->profile) {
            const double r = at.x() + wall_thickness_m;
            // The half toward the eye is cut away, so that the sides and what is behind make the outline.
            for (const Vec3& out : {Vec3(r, 0, 0), Vec3(-r, 0, 0), Vec3(0, r, 0), Vec3(0, -r, 0)})
                corners.emplace_back(wall->centre + out + Vec3(0, 0, at.y()));
        }
    } else if (const auto* mesh = std::get_if<MeshShape>(&shape)) {
        const Box3 whole = bounds(*mesh->mesh);
        for (int corner = 0; corner < 8; ++corner)
            corners.emplace_back(whole.corner(static_cast<Box3::CornerType>(corner)));
    }
}

bool same_shape(const SurfaceShape& a, const SurfaceShape& b) {
    if (a.index() != b.index()) return false;
    if (const auto* plane = std::get_if<PlaneShape>(&a)) {
        const auto& other = std::get<PlaneShape>(b);
        return plane->point == other.point && plane->normal == other.normal;
    }
    if (const auto* box = std::get_if<BoxShape>(&a)) {
        const auto& other = std::get<BoxShape>(b);
        return box->min == other.min && box->max == other.max;
    }
    if (const auto* wall = std::get_if<RevolvedShape>(&a)) {
        const auto& other = std::get<RevolvedShape>(b);
        return wall->centre == other.centre && wall->profile == other.profile;
    }
    return std::get<MeshShape>(a).mesh == std::get<MeshShape>(b).mesh;
}

Piece envelope_piece(const Outline& outline) {
    // The whole outline has a corner every millimetre; the eye is content with fewer.
    constexpr double least_run_m = 0.004;
    constexpr double least_rise_m = 0.002;
    std::vector<Vec2> line;
    const auto add = [&](double x, double r, bool keep) {
        const Vec2 at(x, r);
        if (!keep && !line.empty() && x - line.back().x() < least_run_m &&
            std::abs(r - line.back().y()) < least_rise_m)
            return;
        line.push_back(at);
    };
    for (std::size_t i = 0; i < outline.pieces.size(); ++i) {
        const OutlinePiece& p = outline.pieces[i];
        const bool gap = i == 0 || outline.pieces[i - 1].x1 < p.x0;
        if (gap && !line.empty()) add(line.back().x(), 0, true);
        if (gap) add(p.x0, 0, true);
        add(p.x0, p.r0, gap);
        add(p.x1, p.r1, i + 1 == outline.pieces.size());
    }
    if (!line.empty()) add(line.back().x(), 0, true);
    ShapeBuilder builder;
    builder.turned_about_x(line, 48);
    return piece(builder, Matter::envelope, {});
}

/// Where a ray meets a round pin with flat ends along X; the distance along the ray.
std::optional<double> met_pin(const Ray& ray, double x0, double x1, const Vec2& centre, double radius) {
    const Vec2 from = ray.from.tail<2>() - centre, along = ray.along.tail<2>();
    double near = -std::numeric_limits<double>::infinity(), far = -near;
    const double a = along.squaredNorm(), b = from.dot(along), c = from.squaredNorm() - radius * radius;
    if (a > 1e-12) {
        const double root = b * b - a * c;
        if (root < 0) return std::nullopt;
        near = (-b - std::sqrt(root)) / a;
        far = (-b + std::sqrt(root)) / a;
    } else if (c > 0) {
        return std::nullopt;
    }
    if (std::abs(ray.along.x()) > 1e-12) {
        const auto [in, out] =
            std::minmax({(x0 - ray.from.x()) / ray.along.x(), (x1 - ray.from.x()) / ray.along.x()});
        near = std::max(near, in);
        far = std::min(far, out);
    } else if (ray.from.x() < x0 || ray.from.x() > x1) {
        return std::nullopt;
    }
    if (near > far || far < 0) return std::nullopt;
    return std::max(near, 0.0);
}

std::optional<double> met_box(const Ray& ray, const Vec3& min, const Vec3& max) {
    double near = 0, far = std::numeric_limits<double>::infinity();
    for (Eigen::Index axis = 0; axis < 3; ++axis) {
        const auto [in, out] = std::minmax(
            {(min[axis] - ray.from[axis]) / ray.along[axis], (max[axis] - ray.from[axis]) / ray.along[axis]});
        near = std::max(near, in);
        far = std::min(far, out);
    }
    if (!(near <= far)) return std::nullopt;
    return near;
}

/// The half of a revolved wall that is drawn, behind its vertical as seen along the ray.
std::optional<double> met_wall(const Ray& ray, const RevolvedShape& wall) {
    std::optional<double> nearest;
    for (std::size_t p = 1; p < wall.profile.size(); ++p) {
        // A cone's stretch: r = r0 + k (h − h0); solved in the ray's parameter.
        const Vec2 a = wall.profile[p - 1], b = wall.profile[p];
        if (std::abs(b.y() - a.y()) < 1e-9) continue;
        const double k = (b.x() - a.x()) / (b.y() - a.y());
        const Vec3 o = ray.from - wall.centre, d = ray.along;
        const double r0 = a.x() + k * (o.z() - a.y()), rd = k * d.z();
        const double qa = d.x() * d.x() + d.y() * d.y() - rd * rd,
                     qb = o.x() * d.x() + o.y() * d.y() - r0 * rd,
                     qc = o.x() * o.x() + o.y() * o.y() - r0 * r0;
        const double root = qb * qb - qa * qc;
        if (root < 0 || std::abs(qa) < 1e-12) continue;
        for (const double sign : {-1.0, 1.0}) {
            const double t = (-qb + sign * std::sqrt(root)) / qa;
            const Vec3 at = o + t * d;
            const bool on_it = at.z() >= std::min(a.y(), b.y()) && at.z() <= std::max(a.y(), b.y()) && t > 0;
            const bool behind = at.head<2>().dot(d.head<2>()) > 0;
            if (on_it && behind && (!nearest || t < *nearest)) nearest = t;
        }
    }
    return nearest;
}

std::optional<double> met_surface(const Ray& ray, const SurfaceShape& shape) {
    if (const auto* box = std::get_if<BoxShape>(&shape)) return met_box(ray, box->min, box->max);
    if (const auto* wall = std::get_if<RevolvedShape>(&shape)) return met_wall(ray, *wall);
    if (const auto* plane = std::get_if<PlaneShape>(&shape)) {
        const double toward = ray.along.dot(plane->normal);
        if (toward >= 0) return std::nullopt;
        const double t = (plane->point - ray.from).dot(plane->normal) / toward;
        const Vec3 at = ray.from + t * ray.along;
        return t > 0 && (at - Vec3(0.4, 0, 0)).head<2>().norm() < ground_reach_m ? std::optional(t)
                                                                                 : std::nullopt;
    }
    return std::nullopt;
}

/// The first of what a ray meets.
class Nearest {
  public:
    void offer(std::optional<double> distance, Thing thing) {
        if (distance && *distance < best_) {
            best_ = *distance;
            thing_ = thing;
        }
    }
    [[nodiscard]] std::optional<Sighting> at(const Ray& ray) const {
        if (thing_.kind == Thing::Kind::none) return std::nullopt;
        return Sighting{thing_, ray.from + best_ * ray.along};
    }

  private:
    double best_ = std::numeric_limits<double>::infinity();
    Thing thing_;
};

}  // namespace

Pose turned_rod(double turn_rad) {
    return Pose(Eigen::AngleAxisd(turn_rad, Vec3::UnitX()));
}

const std::vector<Piece>& SceneMaker::pieces_of(const std::shared_ptr<const body::PreparedBody>& body) {
    // A new body may stand where an old one stood.
    std::erase_if(bodies_, [](const auto& entry) { return entry.second.body.expired(); });
    DrawnBody& drawn = bodies_[body.get()];
    if (drawn.pieces.empty()) {
        drawn.body = body;
        for (const body::Part& part : body->body.parts) {
            drawn.pieces.push_back({std::make_shared<const ShapeMesh>(drawn_mesh(part.mesh)),
                                    Pose::Identity(),
                                    matter_of(part),
                                    {},
                                    true,
                                    false});
        }
        for (const body::SwungLimb& limb : body->body.swung) {
            drawn.pieces.push_back({std::make_shared<const ShapeMesh>(drawn_mesh(limb.mesh)),
                                    Pose::Identity(),
                                    Matter::swung,
                                    {},
                                    true,
                                    false});
        }
    }
    return drawn.pieces;
}

const std::vector<Piece>& SceneMaker::pieces_of(const CookerSurface& surface, std::size_t index) {
    if (surfaces_.size() <= index) surfaces_.resize(index + 1);
    DrawnSurface& drawn = surfaces_[index];
    if (drawn.pieces.empty() || !same_shape(drawn.shape, surface.shape)) {
        drawn.shape = surface.shape;
        drawn.pieces = std::visit(SurfacePieces{{Thing::Kind::surface, index}, surface.fire}, surface.shape);
    }
    return drawn.pieces;
}

Scene SceneMaker::scene(const Assembly& assembly, const Analysis& analysis, Colouring colouring) {
    Scene scene;
    scene.pieces.push_back(rod_piece(assembly.rod));
    add_motor(assembly, scene.pieces);
    const double seat = assembly.rod.supports_m[0];
    for (const double z : {-0.065, 0.04}) scene.corners.emplace_back(seat - 0.13, 0, z);
    scene.corners.emplace_back(assembly.rod.length_m, 0, 0);
    for (std::size_t s = 0; s < assembly.cooker.surfaces.size(); ++s) {
        const CookerSurface& surface = assembly.cooker.surfaces[s];
        for (const Piece& piece : pieces_of(surface, s)) scene.pieces.push_back(piece);
        add_corners(surface.shape, scene.corners);
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f)
        scene.pieces.push_back(fork_piece(assembly.forks[f], f, assembly.rod));
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c)
        scene.pieces.push_back(weight_piece(assembly.counterweights[c], c, assembly.rod));
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        for (Piece piece : pieces_of(assembly.items[i].body)) {
            piece.pose = assembly.items[i].pose;
            piece.thing = {Thing::Kind::item, i};
            scene.pieces.push_back(std::move(piece));
        }
    }
    double widest = 0;
    for (const OutlinePiece& p : analysis.clearance.outline.pieces) widest = std::max({widest, p.r0, p.r1});
    if (!analysis.clearance.outline.empty()) {
        scene.pieces.push_back(envelope_piece(analysis.clearance.outline));
        for (const double x :
             {analysis.clearance.outline.pieces.front().x0, analysis.clearance.outline.pieces.back().x1}) {
            for (const double z : {-widest, widest}) scene.corners.emplace_back(x, 0, z);
        }
    }
    if (colouring == Colouring::radius) colour_by_radius(scene);
    return scene;
}

bool looks_past_motor(const Vec3& along) {
    return along.x() > 0.9;
}

std::optional<Sighting> sighted(const Assembly& assembly, const Ray& ray, double turn_rad) {
    constexpr double sight_m = 40;
    const Pose to_rod = turned_rod(turn_rad).inverse();
    const Ray rod_ray{to_rod * ray.from, to_rod.linear() * ray.along};
    Nearest nearest;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const Pose to_item = item.pose.inverse();
        const Vec3 from = to_item * rod_ray.from, to = from + sight_m * (to_item.linear() * rod_ray.along);
        for (std::size_t p = 0; p < item.body->body.parts.size(); ++p) {
            const body::Part& part = item.body->body.parts[p];
            if (!body::displaces(part)) continue;
            const std::vector<Interval> inside = item.body->queries[p].inside(from, to);
            if (!inside.empty()) nearest.offer(inside.front().from, {Thing::Kind::item, i});
        }
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        const Thing thing{Thing::Kind::fork, f};
        nearest.offer(met_pin(rod_ray, fork.at_m - hub_length_m / 2, fork.at_m + hub_length_m / 2,
                              Vec2::Zero(), hub_radius_m),
                      thing);
        for (const Tine& tine : fork.tines) {
            const auto [from, to] = tine_stretch(fork, tine);
            // Easier to hit than thin.
            nearest.offer(
                met_pin(rod_ray, from, to, rod_point(0, tine.radius_m, tine_clock(fork, tine)).tail<2>(),
                        tine.diameter_m),
                thing);
        }
    }
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c) {
        const Counterweight& weight = assembly.counterweights[c];
        const double half = weight.diameter_m / 2;
        nearest.offer(met_pin(rod_ray, weight.at_m - half, weight.at_m + half,
                              rod_point(0, weight.radius_m, weight.clock_rad).tail<2>(), half),
                      {Thing::Kind::counterweight, c});
        nearest.offer(met_pin(rod_ray, weight.at_m - 0.007, weight.at_m + 0.007, Vec2::Zero(), hub_radius_m),
                      {Thing::Kind::counterweight, c});
    }
    nearest.offer(met_pin(rod_ray, 0, assembly.rod.length_m, Vec2::Zero(), assembly.rod.width_m),
                  {Thing::Kind::rod});
    const double seat = assembly.rod.supports_m[0];
    const bool past_motor = looks_past_motor(ray.along);
    if (!past_motor) {
        nearest.offer(met_box(ray, {seat - 0.130, -0.045, -0.065}, {seat - 0.012, 0.045, 0.040}),
                      {Thing::Kind::motor});
    }
    for (std::size_t end = past_motor ? 1 : 0; end < 2; ++end) {
        const double x = assembly.rod.supports_m[end];
        nearest.offer(met_box(ray, {x - 0.010, -0.028, -0.080}, {x + 0.010, 0.028, 0.016}),
                      {Thing::Kind::support, end});
    }
    for (std::size_t s = 0; s < assembly.cooker.surfaces.size(); ++s)
        nearest.offer(met_surface(ray, assembly.cooker.surfaces[s].shape), {Thing::Kind::surface, s});
    return nearest.at(ray);
}

}  // namespace evenspit::viewer
