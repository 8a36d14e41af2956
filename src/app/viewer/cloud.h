// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "app/viewer/sought.h"
#include "scene/mounting_cloud.h"

namespace evenspit::viewer {

/// Ways in which hands may put the load on the rod, shown all at once and gone through one by one.
class Cloud : public Sought<std::vector<scene::DrawnMounting>> {
  public:
    using Sought::Sought;

    /// How many are drawn: enough to see where they lie, few enough to see through.
    static constexpr std::size_t drawn = 64;
    /// So long each is looked at, s: long enough to be seen. Common practice.
    static constexpr double each_s = 0.4;

    void show(bool on) { on_ = on; }
    [[nodiscard]] bool on() const { return on_; }
    /// Tries them.
    ///
    /// \param revision that they will belong to
    void seek(const Assembly& load, std::uint64_t revision);

    void play(bool on) { playing_ = on; }
    [[nodiscard]] bool playing() const { return playing_ && on_ && found(); }
    /// Goes on by so much of the watcher's time; whether another is looked at.
    bool advance(double seconds);
    /// Which is looked at. \pre found()
    [[nodiscard]] std::size_t at() const { return at_; }
    /// How many have that verdict. \pre found()
    [[nodiscard]] std::size_t count(Level verdict) const;

  private:
    bool on_ = false, playing_ = false;
    std::size_t at_ = 0;
    double since_s_ = 0;
};

}  // namespace evenspit::viewer
