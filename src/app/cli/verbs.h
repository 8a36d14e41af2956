// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "app/cli/verb.h"

namespace evenspit {

// Each in the file of its name.
Verb new_verb();
Verb check_verb();
Verb plan_verb();
Verb compare_verb();
Verb fit_verb();
Verb roast_verb();
Verb roll_verb();
Verb card_verb();
Verb shape_verb();
Verb scan_verb();
Verb models_verb();
Verb keys_verb();
Verb explain_verb();
Verb man_verb();
Verb completion_verb();
Verb view_verb();

/// Every verb, in the order of the help.
inline std::vector<Verb> all_verbs() {
    return {new_verb(),     check_verb(), plan_verb(),  compare_verb(),   fit_verb(),    roast_verb(),
            roll_verb(),    card_verb(),  shape_verb(), scan_verb(),      models_verb(), keys_verb(),
            explain_verb(), view_verb(),  man_verb(),   completion_verb()};
}

}  // namespace evenspit
