// SPDX-License-Identifier: MIT
// What a cook over time comes to.
#pragma once

#include <optional>
#include <string>

#include "cook/cook_course.h"
#include "cook/schedule.h"
#include "report/report.h"

namespace evenspit {

/// What a cook reads: when it is done, what to mend first, when to do what, and how everything changes on the
/// way.
///
/// \param schedule absent where it does not get done
std::string roast_text(const Assembly& assembly, const cook::CookCourse& course,
                       const std::optional<cook::Schedule>& schedule, const TextOptions& options);

/// The result as one JSON object, SI, under the key "roast" what comes of the cook; numbers that could not be
/// computed are left out, and so is a list with a hole in it. Lists that follow Along stand beside times_s,
/// those of the rest beside rest.times_s.
std::string roast_json(const Assembly& assembly, const cook::CookCourse& course,
                       const std::optional<cook::Schedule>& schedule);

/// The curves as CSV with a header line each, told apart by the first column: heat and losses at every
/// moment, turning at those where it was asked for, heat over the skin. Items and probes are numbered from 1
/// in the order of the load file; what is not known is an empty cell.
std::string roast_csv(const Assembly& assembly, const cook::CookCourse& course);

}  // namespace evenspit
