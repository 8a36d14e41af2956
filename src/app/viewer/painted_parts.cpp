// SPDX-License-Identifier: MIT
#include "app/viewer/painted_parts.h"

#include <algorithm>
#include <cmath>

#include "app/viewer/dress.h"

namespace evenspit::viewer {
namespace {

constexpr double nearly_upright = 0.8;  // sine of how far the eye looks down or up

}  // namespace

Mat4 model_of(const Piece& piece, const Look& look) {
    Pose pose = piece.turns ? turned_rod(look.turn_rad) * piece.pose : piece.pose;
    if (piece.faces_away) {
        // The eye in the wall's own frame decides where it is cut.
        const Vec3 aside = look.camera.eye() - piece.pose.translation();
        const double azimuth = std::atan2(aside.x(), -aside.y());
        pose = pose * Eigen::AngleAxisd(azimuth, Vec3::UnitZ());
    }
    return pose.matrix().cast<float>();
}

std::pair<float, float> kept_heights(const Piece& piece, const Look& look) {
    constexpr float all = 1e6F;
    if (piece.thing.kind != Thing::Kind::surface) return {-all, all};
    const double up = look.camera.forward().z();
    return {up > nearly_upright ? 0.0F : -all, up < -nearly_upright ? 0.0F : all};
}

Eigen::Vector4d cut_of(const Look& look) {
    if (!look.section) return {0, 0, 0, 1};
    const Vec3 normal = look.section->normal();
    const double side = look.camera.eye().dot(normal) >= look.section->at_m ? 1 : -1;
    return {side * normal.x(), side * normal.y(), side * normal.z(), side * look.section->at_m};
}

bool is_cut(const Piece& piece) {
    return piece.thing.kind == Thing::Kind::item || piece.thing.kind == Thing::Kind::limb ||
           piece.matter == Matter::envelope || piece.matter == Matter::strike ||
           piece.matter == Matter::ghost;
}

std::optional<Vec3> cut_colour(Matter matter) {
    switch (matter) {
        case Matter::skin:
            return done_colours().front().colour;
        case Matter::bone:
            return Vec3(0.84, 0.79, 0.66);
        case Matter::hollow:
            return Vec3(0.025, 0.028, 0.034);
        case Matter::stuffing:
            return Vec3(0.45, 0.42, 0.15);
        default:
            return std::nullopt;
    }
}

Vec3 key_light(const Camera& camera) {
    const Vec3 level = Vec3(camera.forward().x(), camera.forward().y(), 0);
    const Vec3 ahead = level.norm() > 1e-6 ? Vec3(level.normalized()) : Vec3(Vec3::UnitY());
    return (-0.75 * ahead - 0.62 * camera.right() + 1.15 * Vec3::UnitZ()).normalized();
}

Mat4 light_matrix(const Vec3& key, const Box3& around) {
    const Vec3 centre = around.center();
    const double reach = around.diagonal().norm() / 2 + 0.01;
    const Vec3 side = key.cross(Vec3::UnitZ()).normalized(), up = side.cross(key);
    Eigen::Matrix4d m = Eigen::Matrix4d::Identity();
    m.row(0).head<3>() = side / reach;
    m.row(1).head<3>() = up / reach;
    m.row(2).head<3>() = -key / reach;
    m.topRightCorner<3, 1>() = -m.topLeftCorner<3, 3>() * centre;
    return m.cast<float>();
}

SortedPieces sorted_pieces(const Scene& scene, const Look& look) {
    const auto hidden = [&](const Piece& piece) {
        if (look.things_hidden.has(piece.thing)) return true;
        if (!piece.free_side.isZero() && look.camera.eye().dot(piece.free_side) < piece.free_from_m)
            return true;
        if (piece.matter == Matter::envelope) return !look.envelope;
        if (piece.thing.kind == Thing::Kind::surface) return !look.cooker;
        return piece.matter == Matter::hollow && !look.through_skin;
    };
    const auto order = [](const Piece* piece) {
        return piece->matter == Matter::strike     ? 5
               : piece->matter == Matter::ghost    ? 4
               : piece->matter == Matter::envelope ? 3
               : piece->matter == Matter::swung    ? 2
               : piece->matter == Matter::skin     ? 1
                                                   : 0;
    };
    SortedPieces sorted;
    for (const Piece& piece : scene.pieces) {
        if (hidden(piece)) continue;
        const bool glassy = dress_of(piece.matter, look).clear < 1;
        (glassy ? sorted.glassy : piece.turns ? sorted.turning : sorted.standing).push_back(&piece);
    }
    std::stable_sort(sorted.glassy.begin(), sorted.glassy.end(),
                     [&](const Piece* a, const Piece* b) { return order(a) < order(b); });
    return sorted;
}

bool same_look(const Look& a, const Look& b) {
    return a.camera.view() == b.camera.view() && a.camera.distance() == b.camera.distance() &&
           a.area.x == b.area.x && a.area.y == b.area.y && a.area.width == b.area.width &&
           a.area.height == b.area.height && a.turn_rad == b.turn_rad && a.through_skin == b.through_skin &&
           a.skin_opacity == b.skin_opacity && a.envelope == b.envelope && a.cooker == b.cooker &&
           a.hurried == b.hurried && a.marked == b.marked && a.marked_shape == b.marked_shape &&
           a.section == b.section && a.dark == b.dark && a.selected == b.selected && a.rim_px == b.rim_px &&
           a.things_hidden == b.things_hidden;
}

bool Standing::same(const SortedPieces& pieces, const Scene& scene, const Look& look, Extent size) const {
    Look but_for_turn = look;
    but_for_turn.turn_rad = look_.turn_rad;
    const auto same_struck = [](const scene::Struck& a, const scene::Struck& b) {
        return a.thing == b.thing && a.from_m == b.from_m && a.to_m == b.to_m && a.at == b.at;
    };
    const auto same_piece = [](const Piece* a, const Drawn& b) {
        return a->shape == b.shape && a->matter == b.matter && a->pose.matrix() == b.pose.matrix();
    };
    return size == size_ && same_look(but_for_turn, look_) &&
           std::equal(pieces.standing.begin(), pieces.standing.end(), drawn_.begin(), drawn_.end(),
                      same_piece) &&
           std::equal(scene.struck.begin(), scene.struck.end(), struck_.begin(), struck_.end(), same_struck);
}

bool Standing::matches(const SortedPieces& pieces, const Scene& scene, const Look& look, Extent size) const {
    return kept_ && same(pieces, scene, look, size);
}

bool Standing::keep(const SortedPieces& pieces, const Scene& scene, const Look& look, Extent size) {
    kept_ = same(pieces, scene, look, size);
    if (kept_) {
        picture.fit(size, 0, true);
        return true;
    }
    drawn_.clear();
    for (const Piece* piece : pieces.standing) drawn_.push_back({piece->shape, piece->pose, piece->matter});
    struck_ = scene.struck;
    look_ = look;
    size_ = size;
    return false;
}

}  // namespace evenspit::viewer
