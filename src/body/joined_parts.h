// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <vector>

#include "body/body.h"

namespace evenspit::body {

/// Round the cavities that are open to the outside; empty if there are none.
Box3 open_cavity_bounds(const Body& body);

/// A body's parts joined by what they mean to a rod or a tine that is pushed through. Item frame.
///
/// Keeps the body alive; a part that stands alone is not copied.
class JoinedParts {
  public:
    explicit JoinedParts(std::shared_ptr<const PreparedBody> body);

    /// All flesh that is no part of other flesh.
    [[nodiscard]] const SolidQueries& flesh() const { return *flesh_; }
    /// The flesh's surface without the walls of open cavities: for distances only, it need not be closed.
    [[nodiscard]] const SolidQueries& skin() const { return *skin_; }
    /// The flesh's surface without what a rod may pierce (a bird's tail and its root):
    /// for distances only.
    [[nodiscard]] const SolidQueries& firm() const { return *firm_; }
    /// All bones; null if there are none.
    [[nodiscard]] const SolidQueries* bone() const { return bone_.get(); }
    /// Cavities and what fills them; null if there are none.
    [[nodiscard]] const SolidQueries* hollow() const { return hollow_.get(); }
    /// Whether a cavity open to the outside runs through the body.
    [[nodiscard]] bool open_cavity() const { return !cavity_box_.isEmpty(); }
    /// Round the open cavities.
    [[nodiscard]] const Box3& cavity_box() const { return cavity_box_; }
    /// Whether a triangle of flesh() belongs to what may be pierced.
    [[nodiscard]] bool pierceable(std::int32_t flesh_triangle) const;

    [[nodiscard]] const PreparedBody& body() const { return *body_; }

  private:
    std::shared_ptr<const PreparedBody> body_;
    std::shared_ptr<const SolidQueries> flesh_, skin_, firm_, bone_, hollow_;
    std::vector<bool> pierceable_;  // by triangle of flesh_; empty: none
    Box3 cavity_box_;
};

}  // namespace evenspit::body
