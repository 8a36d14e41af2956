// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "body/bird_shape.h"
#include "body/bird_species.h"
#include "scan/board.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// A parametric bird laid over a scan.
class BirdOverlay {
  public:
    Pose to_item = Pose::Identity();             ///< scan frame → item frame of the bird, m
    double scale = 1;                            ///< reference turkey → this bird
    const body::BirdSpecies* species = nullptr;  ///< whose proportions are nearest; not null
    double error =
        0;  ///< root mean square distance of the discs from the bird's skin, far ones counted less, m
    double size = 0;        ///< diagonal of the bird's box, m
    double confidence = 0;  ///< that its ends and its up are the right way round: 1 − (error / error of the
                            ///< best bird that lies otherwise)²

    /// How far the usual value of each number of the fit (turn, shift, size, proportions) lies from the
    /// fitted one, in standard deviations of what is usual; as many as changes() gives.
    std::vector<double> usual;

    /// \param pose shape's axes and origin → scan frame
    BirdOverlay(const body::BirdSpecies& kind, const body::BirdForm& form, const Pose& pose,
                double enlargement);

    /// Distance of a place of the scan frame from the bird's skin, negative inside, m.
    [[nodiscard]] double skin(const Vec3& place) const { return scale * shape_->skin(in_shape(place)); }
    /// How much skin() grows there, m, when each number of the fit grows by one standard deviation of what is
    /// usual. Pose and size may be anything: their standard deviations are wide. Empty for a bird that lies
    /// on no board: who closes no underside asks for none.
    [[nodiscard]] std::vector<double> changes(const Vec3& place) const;
    /// What part of the bird a place near its skin belongs to.
    [[nodiscard]] body::BirdRegion region(const Vec3& place) const {
        return shape_->region_on_surface(in_shape(place));
    }
    /// What fills the hollow, in the item frame: BirdShape::cavity_piece().
    [[nodiscard]] TriangleMesh cavity_piece(double from, double to, double across) const;
    /// Whether the scan looks like a bird at all.
    [[nodiscard]] bool is_bird() const;
    [[nodiscard]] const body::BirdForm& form() const { return shape_->form(); }
    /// Takes a bird that differs in one more number of the fit, by a share of its standard deviation.
    void add_neighbour(const body::BirdForm& form, const Pose& pose, double enlargement, double deviations);

  private:
    // The bird with one number changed.
    struct Neighbour {
        std::shared_ptr<const body::BirdShape> shape;
        Pose to_shape;
        double scale, deviations;
    };
    [[nodiscard]] Vec3 in_shape(const Vec3& place) const {
        return (to_item * place) / scale + Vec3(origin_x_, 0, 0);
    }
    std::shared_ptr<const body::BirdShape> shape_;
    std::vector<Neighbour> neighbours_;
    double origin_x_;  // of the item frame in the shape's, at reference size
};

/// Lays a parametric bird over the seen discs of a sheet: pose, size, species and proportions.
///
/// Robust least squares (Levenberg–Marquardt; weights after S. Geman and D. McClure) of the discs' distances
/// from the bird's skin, from starts that look all ways: on a board all round about the vertical, lying on
/// its back, its breast or a side, or standing on an end; without one along the longest principal axis and
/// round it. Proportions are held near the species' by a prior of 15 % each. On a board the bird must not
/// reach through it, and should lie on it.
BirdOverlay overlay_bird(const Sheet& sheet, const std::optional<Board>& board,
                         const StopControl& control = {});

}  // namespace evenspit::scan
