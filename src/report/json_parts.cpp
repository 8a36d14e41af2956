// SPDX-License-Identifier: MIT
#include "report/json_parts.h"

#include <cmath>

#include "report/tool.h"
#include "units/tell.h"

namespace evenspit {

Json tool_json() {
    return {{"name", tool_name()}, {"version", tool_version()}};
}

Json load_json(const Assembly& assembly) {
    return {{"title", assembly.title}, {"file", assembly.file}};
}

Json chance_json(const Chance& chance) {
    return {{"ready", chance.ready},
            {"care", chance.care},
            {"stop", chance.stop},
            {"mountings", chance.mountings}};
}

Json counterweight_json(const Counterweight& weight) {
    Json json;
    put(json, "at_m", weight.at_m);
    put(json, "mass_kg", weight.mass_kg);
    put(json, "radius_m", weight.radius_m);
    put(json, "clock_deg", written_degrees(weight.clock_rad));
    put(json, "diameter_m", weight.diameter_m);
    return json;
}

double written_degrees(double angle_rad) {
    return std::fmod(std::round(turn_degrees(angle_rad) * 1e9) / 1e9, 360.0);
}

}  // namespace evenspit
