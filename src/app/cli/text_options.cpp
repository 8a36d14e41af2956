// SPDX-License-Identifier: MIT
#include "app/cli/text_options.h"

#include <algorithm>

namespace evenspit {
namespace {

// Longer lines than this are hard to read, however wide the terminal.
constexpr int widest = 100;
constexpr int narrowest = 40;

}  // namespace

TextOptions text_options(const Request& request, const Surroundings& around) {
    TextOptions options{.units = request.units};
    if (around.out_is_terminal && !(request.output && request.text_to_output)) {
        options.colour = !around.has("NO_COLOR") && !around.plain_terminal();
        options.width = std::clamp(around.columns, narrowest, widest);
    }
    return options;
}

}  // namespace evenspit
