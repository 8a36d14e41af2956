// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"
#include "load/load_change.h"
#include "plan/plan.h"

namespace evenspit::plan {

// What may help a load that moving things does not make ready: what to try, from what stands against it.

/// Every item whose limbs hang loose, tied.
std::vector<LoadChange> ties(const Assembly& assembly);

/// The rod of the library that is the least change and would lift what the rod stands against: where stress,
/// sag or bending tines' rod asks for care, the thinnest that would keep both below their limits as far as
/// its section tells (else the stoutest); where things do not fit, the shortest whose usable stretch is
/// longer. It lies on the same supports, but for one that is longer, and fits the bores of the forks that
/// hold by shape.
std::optional<LoadChange> stouter_rod(const Assembly& assembly, const Analysis& analysis,
                                      const std::vector<RodModel>& rods);

/// Of several items the one whose leaving takes most off what stands against the load: the one that most
/// findings are about, else the last toward the point. Its forks stay off with it.
///
/// \param forks_of by item: who holds it
std::optional<LoadChange> one_fewer(const Assembly& assembly, const Analysis& analysis,
                                    const std::vector<std::vector<std::size_t>>& forks_of);

/// What may be changed in a load file: its text is changed and read anew, and its items cook as those of
/// `load` do.
///
/// \param text of the file \param load as it was read and cooked; outlives the result
MayChange changes_of_file(const Assembly& load, std::string text, std::filesystem::path file,
                          std::filesystem::path models);

/// What there is to do, counted as effort() does. From memory of how long each takes.
double effort(const std::vector<LoadChange>& changes);

}  // namespace evenspit::plan
