// SPDX-License-Identifier: MIT
#include "report/tool.h"

namespace evenspit {

std::string_view tool_name() {
    return "evenspit";
}

std::string_view tool_version() {
    return EVENSPIT_VERSION;
}

}  // namespace evenspit
