// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>

#include "app/viewer/sought.h"
#include "cook/cook_moments.h"

namespace evenspit::viewer {

/// The cook that was asked for, and which of its moments is looked at. Where one was cooked before, it stays
/// until the new one is there, and the same time is looked at then.
class Cooking : public Sought<cook::CookMoments> {
  public:
    using Sought::Sought;

    /// Cooks a load; see cook_moments().
    ///
    /// \param revision that the cook will belong to
    /// \pre can_roast(load)
    void seek(const Assembly& load, std::uint64_t revision);
    /// Takes a cook that has come in; whether one has.
    ///
    /// \param wait for it
    /// \throws what the cook threw
    bool take(bool wait);
    void forget();
    /// Looks at a moment, if there are so many; nothing: at the load as written.
    void show(std::optional<std::size_t> moment);
    /// So many moments later, from as written to the first; negative: earlier.
    void step(int by);

    /// The number of the moment being looked at; nothing: the load as written.
    [[nodiscard]] const std::optional<std::size_t>& shown() const { return shown_; }

  private:
    std::optional<std::size_t> shown_;
};

}  // namespace evenspit::viewer
