// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

namespace evenspit::body {

/// A body's field at one place as the body is put together region by region: each layer is the field of all
/// solids so far, and what it adds to the one before belongs to its region.
class RegionLayers {
  public:
    struct Layer {
        std::uint8_t region = 0;
        double field = 0;  ///< negative inside
    };

    /// \pre at most most_layers layers
    void add(std::uint8_t region, double field) { layers_[count_++] = {region, field}; }
    /// A view into this object; not to be had of a temporary, which it would outlive.
    [[nodiscard]] std::span<const Layer> all() const& { return {layers_.data(), count_}; }
    std::span<const Layer> all() const&& = delete;

    static constexpr std::size_t most_layers = 8;

  private:
    std::array<Layer, most_layers> layers_{};
    std::size_t count_ = 0;
};

}  // namespace evenspit::body
