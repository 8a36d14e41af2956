// SPDX-License-Identifier: MIT
// How pieces stand, are lit and are cut in a picture. Inside of Painter. Not for others.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "app/viewer/gl_objects.h"
#include "app/viewer/painter.h"

namespace evenspit::viewer {

/// A piece's own frame → world, as the load is turned.
Mat4 model_of(const Piece& piece, const Look& look);

/// From above and below the cooker is cut open at the rod: the heights of it that are drawn, m.
std::pair<float, float> kept_heights(const Piece& piece, const Look& look);

/// What is cut away by a section: the eye's side of it, of what turns but for rod, forks and weights.
Eigen::Vector4d cut_of(const Look& look);

/// Whether a section cuts it: what turns, but for rod, forks and weights.
bool is_cut(const Piece& piece);

/// What a cut through it looks like; linear.
std::optional<Vec3> cut_colour(Matter matter);

/// The key light: from the upper left behind the eye.
Vec3 key_light(const Camera& camera);

/// World → the light's box, which holds all that casts shadows.
Mat4 light_matrix(const Vec3& key, const Box3& around);

/// A scene's pieces that are not hidden, in the order in which they are drawn.
struct SortedPieces {
    std::vector<const Piece*> standing;  ///< they hide what is behind them, and do not turn
    std::vector<const Piece*> turning;   ///< likewise, with the rod
    std::vector<const Piece*> glassy;    ///< the innermost first
};
SortedPieces sorted_pieces(const Scene& scene, const Look& look);

/// What stands still in a picture, with its depth, so that while the load turns only the load is drawn. Kept
/// once a picture is painted for the second time with nothing changed but the turn.
class Standing {
  public:
    Target picture;

    /// Whether the picture that is kept is what would be drawn.
    [[nodiscard]] bool matches(const SortedPieces& pieces, const Scene& scene, const Look& look,
                               Extent size) const;
    /// Told of what was drawn; whether the picture is to be kept. Then it has the size of the drawing.
    bool keep(const SortedPieces& pieces, const Scene& scene, const Look& look, Extent size);

  private:
    struct Drawn {
        SharedShape shape;
        Pose pose = Pose::Identity();
        Matter matter{};
    };
    [[nodiscard]] bool same(const SortedPieces& pieces, const Scene& scene, const Look& look,
                            Extent size) const;

    std::vector<Drawn> drawn_;
    std::vector<scene::Struck> struck_;
    Look look_;
    Extent size_;
    bool kept_ = false;
};

}  // namespace evenspit::viewer
