// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "geometry/bvh.h"
#include "geometry/mesh.h"
#include "scan/guessed_ground.h"
#include "scan/nearest.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// What of a body's surface was not seen.
struct UnseenGround {
    double area_m2 = 0;    ///< of the whole surface
    double share = 0;      ///< of it that was not seen
    int holes = 0;         ///< unseen places of some size
    double behind_m3 = 0;  ///< how much volume may lie behind them where nothing else bounds them (σ)
};

/// \param support per vertex 0 (nothing was seen there) … 1 \param spacing of the sheet, m
UnseenGround unseen_ground(const TriangleMesh& mesh, const std::vector<double>& support, double spacing);

/// Volume as the sum of parallel chords, m3: shares no formula with the sum over tetrahedra.
double volume_by_chords(const SolidQueries& solid, const StopControl& control = {});

/// How far ground may be off, each place in one piece; σ, m.
struct GroundError {
    double seen_m = 0;             ///< of seen ground, as the centre feels it
    double seen_everywhere_m = 0;  ///< of all seen ground together, as the volume feels it
    double closed_m = 0;           ///< of ground that was not seen
    bool bounded = false;          ///< by a board; what is not may bulge further if it is large
    GuessedGround guessed;         ///< unseen ground of which more is known, frame of the mesh
};

/// How far a body may be off by that, one standard deviation.
struct Doubt {
    double volume_m3 = 0;
    Mat3 centre_covariance_m2 = Mat3::Zero();
};

/// Tells what lies nearer to a place of the guess than its neighbours do, and so belongs to it.
class NearGuess {
  public:
    explicit NearGuess(const std::vector<Vec3>& places);
    [[nodiscard]] bool holds(const Vec3& place) const { return points_.within(place, reach_) >= 0; }
    [[nodiscard]] double reach() const { return reach_; }  ///< m

  private:
    double reach_;
    NearestPoints points_;
};

/// Unseen ground that belongs to a guess, for each of its places; and how much further it departs than the
/// covariance says, on top: a volume's share in m3 for m, m2.
double ground_of_place(const TriangleMesh& mesh, const std::vector<double>& support, const NearGuess& near,
                       std::size_t places);

/// How the errors of volume and centre spread. Where a guess was followed, as what it leaves unknown; each
/// other unseen place and the seen ground are off in one piece, up or down, and sloped as likely as even.
///
/// Off by h, a surface adds ∫ h dA to the volume and moves the centre by ∫ h (x − centre) dA / V. In one
/// piece the latter spreads as σ² A ∫ (x − centre)(x − centre)ᵀ dA / V²; with a covariance C between places
/// of equal area a as a² Σ Σ C_ij (x_i − centre)(x_j − centre)ᵀ / V².
Doubt doubt_of(const TriangleMesh& mesh, const std::vector<double>& support, const GroundError& off);

/// How far points lie from a body, m.
struct Distances {
    double mean = 0, p95 = 0, greatest = 0;
};

/// Of some of the points. \param points in the frame of the solid
Distances distances_from(const SolidQueries& solid, const std::vector<Vec3>& points,
                         const StopControl& control = {});

}  // namespace evenspit::scan
