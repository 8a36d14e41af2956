// SPDX-License-Identifier: MIT
#include "scene/scene.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string_view>
#include <utility>
#include <variant>

#include "analysis/placed.h"
#include "rig/plane_face.h"
#include "scene/colouring.h"
#include "scene/rig_pieces.h"

namespace evenspit::scene {
namespace {

/// At which cut flesh has lost its red: what is called well done is 77 °C (American Meat Science Association,
/// Meat Color Measurement Guidelines, 2012; from memory).
constexpr double browned_k = 273.15 + 77;

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

/// What lies open in a region of a joint's surface.
Tissue tissue_of(const body::Region& region) {
    // Nobody but the eye asks for it, so that it has a name and no kind.
    constexpr std::string_view fat_cap = "fat cap";
    if (region.kind == body::RegionKind::cut_face) return Tissue::cut_flesh;
    if (region.kind == body::RegionKind::bone_end) return Tissue::bone;
    return region.name == fat_cap ? Tissue::fat : Tissue::skin;
}

/// By corner, from what each triangle of the part is; empty where it is skin all over.
std::vector<Tissue> tissues_of(const body::Part& part, const std::vector<body::Region>& regions,
                               const std::vector<std::uint32_t>& corner_of, std::size_t corners) {
    std::vector<Tissue> tissues;
    for (std::size_t t = 0; t < part.regions.size(); ++t) {
        const Tissue tissue = tissue_of(regions.at(part.regions[t]));
        if (tissue == Tissue::skin) continue;
        tissues.resize(corners, Tissue::skin);
        for (const std::int32_t vertex : part.mesh.triangles[t]) {
            Tissue& there = tissues[corner_of[static_cast<std::size_t>(vertex)]];
            // Where regions meet, the bone's end is the smallest.
            if (there != Tissue::bone) there = tissue;
        }
    }
    return tissues;
}

/// A joint's tissues as they are at a moment of its cook: cut flesh has browned where it is done.
std::vector<Tissue> browned(const ShapeMesh& raw, const HeatCells& heat) {
    std::vector<Tissue> tissues = raw.tissues;
    for (std::size_t c = 0; c < tissues.size(); ++c) {
        if (tissues[c] != Tissue::cut_flesh) continue;
        const auto& [x, y, z] = raw.corners[c].at;
        if (heat.at({x, y, z}).value_or(0) >= browned_k) tissues[c] = Tissue::browned_flesh;
    }
    return tissues;
}

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

/// The part of an outline between two stations.
Outline stretch_of(const Outline& outline, double from, double to) {
    Outline result;
    for (OutlinePiece piece : outline.pieces) {
        if (piece.x1 <= from || piece.x0 >= to) continue;
        const auto radius = [&p = std::as_const(piece)](double x) {
            const double run = p.x1 - p.x0;
            return run > 0 ? p.r0 + (x - p.x0) / run * (p.r1 - p.r0) : p.r0;
        };
        const double x0 = std::max(piece.x0, from), x1 = std::min(piece.x1, to);
        const double r0 = radius(x0), r1 = radius(x1);
        result.pieces.push_back({x0, r0, x1, r1, piece.part});
    }
    return result;
}

/// \param closed with a face at each of its ends
Piece envelope_piece(const Outline& outline, bool closed = true) {
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
        if (gap && closed && !line.empty()) add(line.back().x(), 0, true);
        if (gap && closed) add(p.x0, 0, true);
        add(p.x0, p.r0, gap);
        add(p.x1, p.r1, i + 1 == outline.pieces.size());
    }
    if (closed && !line.empty()) add(line.back().x(), 0, true);
    ShapeBuilder builder;
    builder.turned_about_x(line, 48);
    return piece(builder, Matter::envelope, {});
}

std::vector<TineLine> tine_lines(const Assembly& assembly) {
    std::vector<TineLine> lines;
    for (const Fork& fork : assembly.forks) {
        for (const Tine& tine : fork.tines) {
            const PinLine line = pin_line(fork, tine);
            lines.push_back({line.root, line.tip, tine.diameter_m / 2});
        }
    }
    return lines;
}

void add_strikes(Scene& scene, const Outline& outline, const std::vector<Strike>& strikes) {
    // Narrower ones would not be seen.
    constexpr double least_m = 0.008;
    for (const Strike& strike : strikes) {
        const double middle = (strike.from_m + strike.to_m) / 2;
        const double half = std::max(least_m, strike.to_m - strike.from_m) / 2;
        const Outline stretch = stretch_of(outline, middle - half, middle + half);
        scene.struck.push_back({strike.part, middle - half, middle + half, strike.at});
        scene.struck.push_back({{Thing::Kind::surface, strike.surface}, 0, 0, strike.at});
        if (stretch.empty()) continue;
        Piece piece = envelope_piece(stretch, false);
        piece.matter = Matter::strike;
        scene.pieces.push_back(std::move(piece));
    }
}

}  // namespace

Pose turned_rod(double turn_rad) {
    return Pose(Eigen::AngleAxisd(turn_rad, Vec3::UnitX()));
}

SceneMaker::DrawnBody& SceneMaker::drawn(const std::shared_ptr<const body::PreparedBody>& body) {
    // A new body may stand where an old one stood.
    std::erase_if(bodies_, [](const auto& entry) { return entry.second.body.expired(); });
    DrawnBody& drawn = bodies_[body.get()];
    if (!drawn.pieces.empty()) return drawn;
    drawn.body = body;
    for (const body::Part& part : body->body.parts) {
        DrawnMesh mesh = traced_mesh(part.mesh, most_triangles_);
        mesh.shape.tissues =
            tissues_of(part, body->body.region_table, mesh.corner_of, mesh.shape.corners.size());
        if (drawn.pieces.empty()) drawn.corner_of = std::move(mesh.corner_of);
        drawn.pieces.push_back({std::make_shared<const ShapeMesh>(std::move(mesh.shape)),
                                Pose::Identity(),
                                matter_of(part),
                                {},
                                true,
                                false});
    }
    std::size_t limb_number = 0;
    for (const body::SwungLimb& limb : body->body.swung) {
        drawn.pieces.push_back({std::make_shared<const ShapeMesh>(drawn_mesh(limb.mesh, most_triangles_)),
                                Pose::Identity(),
                                Matter::swung,
                                {Thing::Kind::limb, 0, limb_number++},
                                true,
                                false});
    }
    return drawn;
}

const std::vector<Piece>& SceneMaker::pieces_of(const Cooker& cooker, std::size_t index) {
    const CookerSurface& surface = cooker.surfaces[index];
    std::vector<Vec3> face;
    if (std::holds_alternative<PlaneShape>(surface.shape))
        face = plane_face(cooker, index, over_the_fire(cooker), ground_reach_m);
    if (surfaces_.size() <= index) surfaces_.resize(index + 1);
    DrawnSurface& drawn = surfaces_[index];
    if (drawn.pieces.empty() || drawn.face != face || !same_shape(drawn.shape, surface.shape)) {
        drawn.shape = surface.shape;
        drawn.face = face;
        drawn.pieces = surface_pieces(surface, index, drawn.face);
    }
    return drawn.pieces;
}

std::vector<Piece> SceneMaker::ghost(const Assembly& assembly) {
    std::vector<Piece> pieces;
    const auto add = [&pieces](Piece piece) {
        piece.matter = Matter::ghost;
        pieces.push_back(std::move(piece));
    };
    for (std::size_t f = 0; f < assembly.forks.size(); ++f)
        add(fork_piece(assembly.forks[f], f, assembly.rod));
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c)
        add(weight_piece(assembly.counterweights[c], c, assembly.rod));
    for (const Item& item : assembly.items) {
        for (Piece piece : drawn(item.body).pieces) {
            if (piece.matter != Matter::skin) continue;
            piece.pose = item.pose;
            add(std::move(piece));
        }
    }
    // Nothing of it can be pointed at.
    for (Piece& piece : pieces) piece.thing = {};
    return pieces;
}

void SceneMaker::add_item(Scene& scene, const Item& item, std::size_t index,
                          const std::shared_ptr<const HeatCells>& heat) {
    DrawnBody& body = drawn(item.body);
    const auto flesh = item.matter ? item.matter->flesh : nullptr;
    if (flesh && (flesh != body.flesh || heat != body.heat)) {
        const ShapeMesh& raw = *body.pieces.front().shape;
        ShapeMesh now = moved_in(raw, *flesh);
        if (heat) now.tissues = browned(raw, *heat);
        body.moved_in = std::make_shared<const ShapeMesh>(std::move(now));
        body.flesh = flesh;
        body.heat = heat;
    }
    for (Piece piece : body.pieces) {
        piece.pose = item.pose;
        piece.thing = piece.thing.kind == Thing::Kind::limb
                          ? Thing{Thing::Kind::limb, index, piece.thing.part}
                          : Thing{Thing::Kind::item, index};
        const bool outside = piece.shape == body.pieces.front().shape;
        if (outside && flesh) piece.shape = body.moved_in;
        scene.pieces.push_back(std::move(piece));
    }
}

void SceneMaker::colour(Scene& scene, const Assembly& assembly, const Analysis& analysis,
                        const Shown& shown) {
    const Colouring what = shown.colouring;
    if (what == Colouring::radius)
        return colour_skin(scene, {.name = "distance from the rod", .dimension = Dimension::length});
    if (what == Colouring::gap) {
        Field field{.name = "gap to the cooker", .dimension = Dimension::length, .what = what};
        field.reach = free_reach(analysis.clearance, analysis.rod, assembly.rod.length_m, shown.walls);
        if (!field.reach.empty()) colour_skin(scene, std::move(field));
        return;
    }
    if (what == Colouring::cover) {
        Field field{.name = "distance to the nearest tine", .dimension = Dimension::length, .what = what};
        field.tines = tine_lines(assembly);
        if (!field.tines.empty()) colour_skin(scene, std::move(field));
        return;
    }
    if (what == Colouring::none || shown.heat.size() != assembly.items.size()) return;
    Field field{.name = what == Colouring::heat ? "heat taken up, against the mean" : "temperature",
                .dimension = what == Colouring::heat ? Dimension::number : Dimension::temperature,
                .from = what == Colouring::heat ? 0 : shown.coldest_k,
                .to = what == Colouring::heat ? 0 : shown.hottest_k,
                .what = what};
    field.heat = scene.heat;
    if (what == Colouring::temperature) return colour_skin(scene, std::move(field));
    for (Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin || piece.thing.kind != Thing::Kind::item) continue;
        const auto& body = assembly.items[piece.thing.index].body;
        piece.values = std::make_shared<const std::vector<float>>(
            heat_at_corners(body->body.parts.front().mesh, shown.heat[piece.thing.index]->skin_j_m2,
                            drawn(body).corner_of, piece.shape->corners.size()));
    }
    colour_skin(scene, std::move(field));
}

Scene SceneMaker::scene(const Assembly& assembly, const Analysis& analysis, const Shown& shown) {
    Scene scene;
    scene.pieces.push_back(rod_piece(assembly.rod));
    add_motor(assembly, scene.pieces);
    const double seat = assembly.rod.supports_m[0];
    for (const double z : {-0.065, 0.04}) scene.corners.emplace_back(seat - 0.13, 0, z);
    scene.corners.emplace_back(assembly.rod.length_m, 0, 0);
    for (std::size_t s = 0; s < assembly.cooker.surfaces.size(); ++s) {
        const CookerSurface& surface = assembly.cooker.surfaces[s];
        for (const Piece& piece : pieces_of(assembly.cooker, s)) scene.pieces.push_back(piece);
        add_corners(surface.shape, scene.corners);
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f)
        scene.pieces.push_back(fork_piece(assembly.forks[f], f, assembly.rod));
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c)
        scene.pieces.push_back(weight_piece(assembly.counterweights[c], c, assembly.rod));
    const bool heated = shown.heat.size() == assembly.items.size();
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        add_item(scene, item, i, heated ? shown.heat[i] : nullptr);
        if (heated) scene.heat.push_back({item.pose.inverse(), shown.heat[i]});
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
    add_strikes(scene, analysis.clearance.outline, shown.strikes);
    colour(scene, assembly, analysis, shown);
    return scene;
}

}  // namespace evenspit::scene
