// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "analysis/chance.h"
#include "app/cli/progress.h"
#include "app/cli/words.h"
#include "cook/cook_course.h"

namespace evenspit {

/// What is asked of a cook beside its load.
struct RoastRequest {
    double spacing_m = 0.002;
    int mountings = usual_mountings;
    std::optional<std::vector<double>> cuts_at_s{};  ///< absent: half way, and when it comes off

    bool operator==(const RoastRequest&) const = default;
};

/// \throws UsageError for cells that are too small or too large, and for moments of cuts that nobody draws
RoastRequest roast_request(const Words& words);

/// Cooks a load, tells how far it has come, and stops when Ctrl-C asks for it.
///
/// \throws Stopped then
cook::CookCourse told_cook(const Assembly& assembly, const cook::CookOptions& options, Progress& progress);

/// Tells how far a cook has come and how long it will still take, a few times a second at most.
class CookProgress {
  public:
    explicit CookProgress(Progress& progress) : progress_(progress) {}

    /// \param passed_s since it was begun, by a clock on the wall
    void now(double done_s, double of_s, double passed_s);

  private:
    Progress& progress_;
    std::optional<double> told_s_{};
};

/// Tells `told`, which has to live as long, by the clock on the wall from now on.
RoastProgress by_the_clock(CookProgress& told);

}  // namespace evenspit
