// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <vector>

#include "scan/grid_field.h"

namespace evenspit::scan {

/// Solves (6 u − Σ of the six neighbours) + d·u ≈ r on a grid with zeros round it, roughly: one V-cycle from
/// u = 0.
///
/// Red-black relaxation, down and up in mirrored order so that the cycle is symmetric and may precondition
/// conjugate gradients (W. Briggs, V. Henson, S. McCormick, A Multigrid Tutorial, 2nd ed., SIAM, 2000).
class MultigridCycle {
  public:
    /// \param diagonal d ≥ 0 on the nodes of the finest grid; each n must be a multiple of 2^levels less one
    MultigridCycle(const GridField& diagonal, int levels);

    /// \param right r; same grid. Its frame must be 0.
    /// \param solution overwritten
    void apply(const GridField& right, GridField& solution);

  private:
    struct Level {
        GridField diagonal, right, solution, residual;
        double stiffness;  // factor of the difference term: h⁻² in units of the finest grid
    };
    void relax(Level& level, bool red_first) const;
    void cycle(std::size_t depth);
    std::vector<Level> levels_;
};

/// The n for which `levels` halvings work and that is at least `least`.
int multigrid_size(int least, int levels);

}  // namespace evenspit::scan
