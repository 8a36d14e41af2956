// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <unordered_map>
#include <utility>
#include <vector>

#include "analysis/clearance.h"
#include "analysis/passage.h"
#include "load/assembly.h"

namespace evenspit {

/// By what an answer about items is known again: their bodies, and every number that the answer hangs on, to
/// the last bit.
class MemoryKey {
  public:
    /// The item as it sits: its body, its pose and its scale.
    explicit MemoryKey(const Item& item) { add(item); }
    /// The item as if it sat so.
    MemoryKey(const Item& item, const Pose& pose) { add(item, pose); }

    /// \pre no more than two items
    MemoryKey& add(const Item& item) { return add(item, item.pose); }
    MemoryKey& add(const Item& item, const Pose& pose) {
        bodies_.at(items_++) = item.body;
        for (Eigen::Index row = 0; row < 3; ++row) {
            for (Eigen::Index column = 0; column < 4; ++column) add(pose(row, column));
        }
        return add(item.off.scale);
    }
    /// \pre no more than `most` numbers, items' own among them
    MemoryKey& add(double number) {
        numbers_.at(count_++) = std::bit_cast<std::uint64_t>(number);
        return *this;
    }

    bool operator==(const MemoryKey&) const = default;

    struct Hash {
        std::size_t operator()(const MemoryKey& key) const;
    };

  private:
    static constexpr std::size_t most = 28;

    // Kept as long as the key is, so that no other can come to stand in their place.
    std::array<std::shared_ptr<const body::PreparedBody>, 2> bodies_;
    std::size_t items_ = 0;
    std::array<std::uint64_t, most> numbers_{};
    std::size_t count_ = 0;
};

/// Answers of one kind, each under its key. What has not been asked for in some rounds is forgotten.
template <class Value>
class Remembered {
  public:
    /// What stands under the key, or else what `work` gives, which stands there from now on.
    ///
    /// \return good until the next round begins
    template <class Work>
    const Value& value(const MemoryKey& key, const Work& work) {
        const auto known = kept_.find(key);
        if (known != kept_.end()) {
            known->second.asked_in = round_;
            return known->second.value;
        }
        return kept_.emplace(key, Kept{work(), round_}).first->second.value;
    }
    void begin_round() {
        ++round_;
        std::erase_if(kept_, [this](const auto& entry) { return entry.second.asked_in + rounds < round_; });
    }
    [[nodiscard]] std::size_t size() const { return kept_.size(); }

  private:
    /// Long enough for hands that go to and fro.
    static constexpr std::uint64_t rounds = 8;

    struct Kept {
        Value value;
        std::uint64_t asked_in = 0;
    };
    std::unordered_map<MemoryKey, Kept, MemoryKey::Hash> kept_;
    std::uint64_t round_ = 0;
};

/// What was worked out for one load, kept for the next that differs little from it: see analyse(). What did
/// not move is known again by its values and not worked out a second time; for what did move there are trees
/// that sweep it quickly. With a memory or without, whatever it holds, all answers are the same to the last
/// bit.
///
/// For one analysis at a time.
class AnalysisMemory {
  public:
    Remembered<std::vector<OutlinePiece>> outlines;  ///< of one mesh
    Remembered<PinMet> pins;
    Remembered<Passage> rods;                         ///< see rod_passage()
    Remembered<std::vector<Interval>> rod_stretches;  ///< see rod_stretches()
    Remembered<RodInBone> bones;                      ///< see rod_in_bone()
    Remembered<std::optional<RodCover>> covers;       ///< see rod_cover()
    Remembered<bool> collisions;                      ///< of two items

    /// Grows trees for the load's bodies, if it has none for them. The dearest part of a first analysis, so
    /// that whoever has time before may ask for it.
    void grow_trees(const Assembly& assembly);
    /// Begins with another load: what some loads before it did not ask for is forgotten.
    void begin(const Assembly& assembly);

    /// What sweeps the bodies of the last load quickly, however it is set up; see sweep_trees(). Null before
    /// the first. It never changes, so that other threads may use it, as long as they keep the bodies.
    [[nodiscard]] const std::shared_ptr<const SweepTrees>& trees() const { return trees_; }

  private:
    std::shared_ptr<const SweepTrees> trees_;
    std::vector<std::shared_ptr<const body::PreparedBody>> grown_for_;  // once each, in order of address
};

/// The value that a memory has under a key, or else what `work` gives; without a memory, that.
template <class Value, class Work>
Value recalled(Remembered<Value>* known, const MemoryKey& key, const Work& work) {
    return known ? known->value(key, work) : work();
}

}  // namespace evenspit
