// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <stop_token>
#include <vector>

#include "cook/cook_course.h"

namespace evenspit::cook {

/// A load at one moment of its cook, with all its answers.
struct CookMoment {
    double time_s = 0;  ///< after the load goes in
    Assembly load;      ///< its items as the cook has them then: Item::matter
    Analysis analysis;  ///< as drawn; without mountings
    std::vector<std::shared_ptr<const HeatCells>> heat{};  ///< by item; see RoastMoment::heat
};

/// A cook that can be gone through moment by moment.
struct CookMoments {
    CookCourse course;
    std::vector<CookMoment> moments;      ///< on the fire, in order; the last as it comes off
    std::size_t worst = 0;                ///< of `moments`: where motor and grip have least left
    double coldest_k = 0, hottest_k = 0;  ///< of all flesh and skin, over all moments

    /// The moment nearest to a time. \pre some moments
    [[nodiscard]] std::size_t near(double time_s) const;
};

/// Cooks a load coarsely, and asks all questions of check at each moment.
///
/// What is swept is that of the start: what shrinks leaves more room, which is not counted. Forks are as they
/// were set; none is pushed in.
///
/// \param progress told a share of the work and what it is
/// \throws Stopped once asked to \throws std::invalid_argument if !can_roast()
CookMoments cook_moments(const Assembly& assembly,
                         const std::function<void(double share, const char* what)>& progress = {},
                         const std::stop_token& stop = {});

}  // namespace evenspit::cook
