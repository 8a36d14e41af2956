// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "app/viewer/sought.h"
#include "plan/fitting_weight.h"

namespace evenspit::viewer {

/// The counterweights that were asked for.
class Weighing : public Sought<std::vector<Counterweight>> {
  public:
    using Sought::Sought;

    /// Seeks those that fit and help; see plan::fitting_weights().
    ///
    /// \param revision that they will belong to
    void seek(const Assembly& load, const Analysis& now, std::uint64_t revision) {
        begin(revision,
              [load, now](JobControl& control) { return plan::fitting_weights(load, now, control.token()); });
    }
};

}  // namespace evenspit::viewer
