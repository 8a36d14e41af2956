// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <numeric>
#include <vector>

namespace evenspit {

/// Which of n things (0 … n − 1) hang together; each set has one of its members as its root.
class DisjointSets {
  public:
    explicit DisjointSets(std::size_t n) : parent_(n) { std::iota(parent_.begin(), parent_.end(), 0); }

    /// Makes one set of a's and b's; its root is b's.
    void join(std::int32_t a, std::int32_t b) { parent_[std::size_t(root(a))] = root(b); }
    /// Shortens the way for the next call.
    std::int32_t root(std::int32_t a) {
        while (parent_[std::size_t(a)] != a) {
            auto& up = parent_[std::size_t(a)];
            up = parent_[std::size_t(up)];
            a = up;
        }
        return a;
    }
    bool is_root(std::int32_t a) { return root(a) == a; }

  private:
    std::vector<std::int32_t> parent_;
};

}  // namespace evenspit
