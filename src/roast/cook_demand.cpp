// SPDX-License-Identifier: MIT
#include "roast/cook_demand.h"

#include <string>
#include <utility>

#include "rig/plane_room.h"
#include "roast/roast_course.h"
#include "units/error.h"

namespace evenspit {

void demand_a_cook(const Assembly& assembly, const std::filesystem::path& load) {
    if (can_roast(assembly)) return;
    Complaint complaint;
    complaint.spot.file = load.string();
    if (assembly.items.empty()) {
        complaint.key = "item";
        complaint.found = "nothing to roast";
        complaint.expected = "at least one [[item]]";
        complaint.mend = "say what goes on the rod";
        throw InputError(std::move(complaint));
    }
    if (burns_in_the_open(assembly.cooker)) {
        complaint.key = "cook";
        complaint.found = "no [cook]";
        complaint.expected = "what is cooked by, and until when";
        complaint.mend = "add a line [cook], and under it fuel = \"wood\" or what else burns";
        throw InputError(std::move(complaint));
    }
    complaint.key = "cook.cooker_temperature";
    complaint.found = assembly.cook ? "no such key" : "no [cook]";
    complaint.expected = "how hot the cooker is held, by its thermometer";
    complaint.mend =
        std::string(assembly.cook ? "write it under [cook]" : "add a line [cook], and under it") +
        " cooker_temperature = \"300 degF\"";
    throw InputError(std::move(complaint));
}

}  // namespace evenspit
