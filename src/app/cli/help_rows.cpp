// SPDX-License-Identifier: MIT
#include "app/cli/help_rows.h"

namespace evenspit {

std::string_view program_summary() {
    return "Tells, before the fire is lit, whether a load on a motor-driven spit is\n"
           "balanced, gripped, stiff and clear of the cooker.";
}

const std::vector<HelpRow>& status_rows() {
    static const std::vector<HelpRow> rows{{"0", "computed, the verdict is ready or care"},
                                           {"1", "computed, the verdict is stop"},
                                           {"2", "bad input or bad usage; the message says what to mend"},
                                           {"3", "a fault of the program's own"},
                                           {"130", "stopped by Ctrl-C"},
                                           {"141", "nobody read the output any more; no file was written"}};
    return rows;
}

const std::vector<HelpRow>& environment_rows() {
    static const std::vector<HelpRow> rows{
        {"EVENSPIT_CACHE", "Folder that keeps shapes for later runs; none: keep none"},
        {"EVENSPIT_MODELS", "Folder of models, instead of those that came with it"},
        {"NO_COLOR", "If set, no colour"}};
    return rows;
}

}  // namespace evenspit
