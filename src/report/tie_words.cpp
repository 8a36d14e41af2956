// SPDX-License-Identifier: MIT
#include "report/tie_words.h"

#include <fmt/format.h>

#include "body/trussing.h"

namespace evenspit {

bool is_pig(const Item& item) {
    return !item.bird && item.body->body.trussing.has_value();
}

std::string tying_step(const Item& pig) {
    if (pig.body->body.trussing == body::Trussing::stretched)
        return "Lay butcher's string in water, or cut wire: the legs are tied once the rod is in.";
    return fmt::format("Fold the legs over the belly and tie them there with {}.", leg_ties);
}

std::string tying_on_rod_step(const Item& item, std::string_view name) {
    if (item.body->body.trussing != body::Trussing::stretched) return "";
    return fmt::format(
        "Tie the legs of {} to the rod with {}: the forelegs forward beside the jowls, the hind legs back "
        "beside the tail. Pull at each.",
        name, leg_ties);
}

}  // namespace evenspit
