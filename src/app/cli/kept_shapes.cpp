// SPDX-License-Identifier: MIT
#include "app/cli/kept_shapes.h"

namespace evenspit {

std::unique_ptr<const KeptFiles> kept_shapes(const Surroundings& around) {
    namespace fs = std::filesystem;
    const auto in = [](const fs::path& folder) { return std::make_unique<const KeptFiles>(folder); };
    if (around.has("EVENSPIT_CACHE")) {
        const std::string named = *around.variable("EVENSPIT_CACHE");
        return named == "none" ? nullptr : in(named);
    }
    // A folder that is not absolute does not count.
    if (const auto named = around.variable("XDG_CACHE_HOME"); named && fs::path(*named).is_absolute())
        return in(fs::path(*named) / "evenspit");
    if (const auto home = around.variable("HOME"); home && fs::path(*home).is_absolute())
        return in(fs::path(*home) / ".cache" / "evenspit");
    return nullptr;
}

}  // namespace evenspit
