// SPDX-License-Identifier: MIT
#pragma once

#include <boost/pending/disjoint_sets.hpp>
#include <cstddef>
#include <cstdint>

namespace evenspit {

/// Which of n things (0 … n − 1) hang together; each set has one of its members as its root.
class DisjointSets {
  public:
    explicit DisjointSets(std::size_t n) : sets_(n) {}

    /// Makes one set of a's and b's.
    void join(std::int32_t a, std::int32_t b) { sets_.union_set(std::size_t(a), std::size_t(b)); }
    std::int32_t root(std::int32_t a) { return static_cast<std::int32_t>(sets_.find_set(std::size_t(a))); }
    bool is_root(std::int32_t a) { return root(a) == a; }

  private:
    boost::disjoint_sets_with_storage<> sets_;
};

}  // namespace evenspit
