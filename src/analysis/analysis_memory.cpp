// SPDX-License-Identifier: MIT
#include "analysis/analysis_memory.h"

#include <algorithm>
#include <functional>

namespace evenspit {

std::size_t MemoryKey::Hash::operator()(const MemoryKey& key) const {
    // Fowler, Noll and Vo's way of mixing, whole words at a time; low bits of the numbers are the busiest, so
    // that what is left is folded once more.
    constexpr std::uint64_t prime = 0x100000001b3;
    std::uint64_t mixed = std::hash<const void*>()(key.bodies_[0].get());
    for (std::size_t i = 0; i < key.count_; ++i) mixed = (mixed ^ key.numbers_[i]) * prime;
    return static_cast<std::size_t>(mixed ^ (mixed >> 32));
}

void AnalysisMemory::grow_trees(const Assembly& assembly) {
    std::vector<std::shared_ptr<const body::PreparedBody>> bodies;
    for (const Item& item : assembly.items) bodies.push_back(item.body);
    std::sort(bodies.begin(), bodies.end());
    bodies.erase(std::unique(bodies.begin(), bodies.end()), bodies.end());
    if (trees_ && bodies == grown_for_) return;
    trees_ = std::make_shared<const SweepTrees>(sweep_trees(assembly));
    grown_for_ = std::move(bodies);
}

void AnalysisMemory::begin(const Assembly& assembly) {
    outlines.begin_round();
    pins.begin_round();
    rods.begin_round();
    rod_stretches.begin_round();
    bones.begin_round();
    collisions.begin_round();
    grow_trees(assembly);
}

}  // namespace evenspit
