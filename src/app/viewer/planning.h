// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

#include "app/viewer/sought.h"
#include "plan/plan.h"

namespace evenspit::viewer {

/// The plan that was asked for, and which of its answers is looked at.
class Planning : public Sought<plan::Plan> {
  public:
    using Sought::Sought;

    /// Seeks where rod, forks and counterweights should go; see make_plan().
    ///
    /// \param revision that the answers will belong to
    void seek(const Assembly& load, std::uint64_t revision);
    /// Takes a plan that has come in, and looks at what it recommends; whether one has.
    ///
    /// \param wait for it
    /// \throws what the search threw
    bool take(bool wait);

    [[nodiscard]] const std::optional<plan::Plan>& plan() const { return found(); }
    /// Looks at an answer, if there are so many.
    void show(std::size_t answer);
    /// The number of the answer being looked at. \pre plan()
    [[nodiscard]] std::size_t shown() const { return shown_; }

  private:
    std::size_t shown_ = 0;
};

}  // namespace evenspit::viewer
