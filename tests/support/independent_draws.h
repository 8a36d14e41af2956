// SPDX-License-Identifier: MIT
// Loads drawn anew: by a drawer of the tests' own, with plain pseudo-random numbers, each draw a load without
// spread that is analysed in full. Chances told are held against them.
//
// The draws are made of assemblies, not of texts: a load file has no key for a centre of mass that is off,
// for softer flesh or a tie undone, a shape of another weight is another shape, and meshes are dear to read.
#pragma once

#include <map>
#include <random>
#include <string>
#include <tuple>
#include <vector>

#include <gtest/gtest.h>

#include "analysis/analysis.h"
#include "load/assembly.h"

namespace evenspit::test {

/// Draws loads as hands may set them up, by what README says of `[spread]`.
class Drawer {
  public:
    /// \param load outlives the drawer
    /// \param seed any text: each gives draws of its own, the same every time
    Drawer(const Assembly& load, const std::string& seed);

    Assembly draw();

  private:
    double off_by(double deviation) { return deviation * normal_(random_); }
    double factor(double deviation);
    Vec2 off_by_each_way(double deviation);
    Vec3 centre_off(const body::Body& body);
    void move_item(Assembly& drawn, std::size_t i);
    void change_rig(Assembly& drawn);

    const Assembly& load_;
    std::mt19937_64 random_;
    std::normal_distribution<double> normal_;
    std::vector<int> holds_;  // by fork: the item, −1 for none
};

/// What makes findings of several draws one.
using About = std::tuple<Code, Thing::Kind, std::size_t, std::size_t>;
About about(const Finding& finding);

/// The findings of a draw that count, each with its level: those that hands do not see and mend.
std::map<About, Level> unseen(const Analysis& analysis);

/// What was found in many draws.
struct Found {
    int draws = 0, ready = 0, stop = 0;
    std::map<About, int> not_ready{}, stops{};
};
Found found_in(Drawer drawer, int draws);

/// Whether a share told of `told_of` draws and one found in `found_of` others can be of one chance.
///
/// What they scatter by is that of their common mean, taken as if one more of each had been seen: so a share
/// of 0 scatters too, and 300 draws may hold 4 of what 1,024 have none of.
testing::AssertionResult agree(double told, int told_of, int found, int found_of);

/// The samples and twelve loads more: their files, from the source folder on.
std::vector<std::string> loads_to_draw();

}  // namespace evenspit::test
