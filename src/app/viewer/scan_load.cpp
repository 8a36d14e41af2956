// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>

#include "app/viewer/desk.h"

namespace evenspit::viewer {
namespace {

// So far a fork's tines of 95 mm reach into the meat, common practice, no source.
constexpr double bite_m = 0.065;
constexpr double tine_m = 0.095;

std::string toml_quoted(const std::string& text) {
    // A literal string takes anything but a single quote and control characters.
    const bool literal = std::none_of(
        text.begin(), text.end(), [](char c) { return c == '\'' || static_cast<unsigned char>(c) < 0x20; });
    if (literal) return "'" + text + "'";
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') quoted += '\\';
        if (static_cast<unsigned char>(c) < 0x20) {
            quoted += fmt::format("\\u{:04x}", static_cast<unsigned char>(c));
        } else {
            quoted += c;
        }
    }
    return quoted + '"';
}

}  // namespace

std::string load_for_scan(const std::filesystem::path& scan, std::string_view scan_unit, double from_m,
                          double to_m) {
    const std::string name = scan.stem().string();
    std::string text = fmt::format(
        "# Begun in the viewer: a scan on a usual rod in a usual cooker. Put your own rod, motor, cooker and "
        "the\n"
        "# weight on the scale here.\n"
        "title = {0}\n\n"
        "[rod]\nmodel = \"square-10mm\"\n\n"
        "[motor]\nmodel = \"mains-gearmotor\"\n\n"
        "[cooker]\nmodel = \"kettle-57\"\n\n"
        "[[item]]\nname = {0}\nscan = {1}\n",
        toml_quoted(name), toml_quoted(scan.string()));
    if (!scan_unit.empty()) text += fmt::format("scan_unit = \"{}\"\n", scan_unit);
    text += "frame = \"auto\"                     # its longest axis along the rod\nat = \"340 mm\"\n";
    if (to_m > from_m) {
        const double free = tine_m - std::min(bite_m, (to_m - from_m) / 3);
        text += fmt::format(
            "\n[[fork]]\nmodel = \"two-tine\"\nat = \"{:.0f} mm\"\npoints = \"point\"\n\n"
            "[[fork]]\nmodel = \"two-tine\"\nat = \"{:.0f} mm\"\npoints = \"drive\"\n",
            1000 * (from_m - free), 1000 * (to_m + free));
    }
    return text;
}

}  // namespace evenspit::viewer
