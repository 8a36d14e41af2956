// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include "geometry/types.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Places, and what the numbers of a guess do there.
struct GuessedPlaces {
    std::vector<Vec3> at;     ///< m
    Eigen::MatrixXd changes;  ///< a row for each place, a column for each number: m of skin for one standard
                              ///< deviation of the number
};

/// How far a body's skin lies outside a guess of it, all over, from how far it does where it was seen.
///
/// Gaussian process regression (C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning,
/// MIT Press, 2006, algorithm 2.1). The departure is what wrong numbers of the guess make (basis functions
/// with a prior, section 2.7), and what no number describes: fields of short and of long reach with Matérn
/// covariance, ν = 5/2 (equation 4.17). The short reach, its share and the size of the fields are those under
/// which what was seen is likeliest (section 5.4.1).
class Departure {
  public:
    /// \param seen where the skin was seen, and its numbers' changes \param values how far it lies outside
    /// the guess there, m, one per place \param usual of the guess's numbers, as in SkinGuess \param size of
    /// the body, m: reaches are shares of it
    /// \pre at least one place; places.changes has a column for each of `usual`
    Departure(GuessedPlaces seen, const Eigen::VectorXd& values, const Eigen::VectorXd& usual, double size,
              const StopControl& control = {});

    /// The likeliest departure at places, m.
    [[nodiscard]] Eigen::VectorXd mean(const GuessedPlaces& where) const;
    /// Covariance of what is left unknown of it, m², between places and others.
    [[nodiscard]] Eigen::MatrixXd covariance(const GuessedPlaces& a, const GuessedPlaces& b) const;
    /// covariance(where, from) · weights, without forming the product of large matrices.
    [[nodiscard]] Eigen::VectorXd carried(const GuessedPlaces& where, const GuessedPlaces& from,
                                          const Eigen::VectorXd& weights) const;

  private:
    // Of the fields that no number describes.
    struct Fields {
        double amplitude = 0;    // σ, m
        double reach = 0;        // of the short one, m
        double short_share = 0;  // of the variance
    };
    [[nodiscard]] double covariance_at(double distance) const;
    [[nodiscard]] Eigen::MatrixXd prior(const GuessedPlaces& a, const GuessedPlaces& b) const;

    StopControl control_;
    GuessedPlaces seen_;
    Eigen::VectorXd offset_;  // of the numbers: where they are expected before anything is seen
    double long_reach_;
    Fields fields_;
    Eigen::LLT<Eigen::MatrixXd> gram_;
    Eigen::VectorXd weights_;
};

}  // namespace evenspit::scan
