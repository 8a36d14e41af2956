// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/sought.h"
#include "trim/trim.h"

namespace evenspit::viewer {

/// The counterweight that was asked for after a roll test.
class Trimming : public Sought<Trim> {
  public:
    using Sought::Sought;

    /// Seeks what trims the load; see trim(). How often it is ready is not asked: the answers to the trimmed
    /// load tell.
    ///
    /// \param revision that the result will belong to
    /// \pre was_rolled(load)
    void seek(const Assembly& load, std::uint64_t revision) {
        begin(revision, [load](JobControl& control) { return trim(load, 0, control.token()); });
    }
};

}  // namespace evenspit::viewer
