// SPDX-License-Identifier: MIT
#include "app/viewer/scan_load.h"

#include <algorithm>
#include <cctype>
#include <cstdint>
#include <system_error>
#include <vector>

#include <fmt/format.h>

#include "files/whole_file.h"
#include "geometry/scan_io.h"
#include "report/reader_units.h"
#include "scan/body_file.h"
#include "scan/scan.h"
#include "scan/scan_note.h"
#include "scan/scan_unit.h"
#include "units/quantity.h"
#include "units/tell.h"
#include "units/toml_string.h"

namespace evenspit::viewer {
namespace {

// So far a fork's tines of 95 mm reach into the meat, common practice, no source.
constexpr double bite_m = 0.065;
constexpr double tine_m = 0.095;

}  // namespace

std::string ending_of(const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending;
}

std::string load_for_scan(const ScanForLoad& scan) {
    const std::string name = scan.file.stem().string();
    std::string text = fmt::format(
        "# Begun in the viewer: a scan on a usual rod in a usual cooker. Put your own rod, motor, cooker and "
        "the\n"
        "# weight on the scale here.\n"
        "title = {0}\n\n"
        "[rod]\nmodel = \"square-10mm\"\n\n"
        "[motor]\nmodel = \"mains-gearmotor\"\n\n"
        "[cooker]\nmodel = \"kettle-57\"\n\n"
        "[[item]]\nname = {0}\nscan = {1}\n",
        toml_string(name), toml_string(scan.file.string()));
    if (!scan.unit.empty()) text += fmt::format("scan_unit = \"{}\"\n", scan.unit);
    if (scan.mass_kg)
        text += fmt::format("mass = \"{}\"\n",
                            format_quantity(*scan.mass_kg, Dimension::mass, UnitSystem::metric, 6));
    text += scan.own_frame ? "frame = \"file\"\n"
                           : "frame = \"auto\"                     # its longest axis along the rod\n";
    text += "at = \"340 mm\"\n";
    if (scan.to_m > scan.from_m) {
        const double free = tine_m - std::min(bite_m, (scan.to_m - scan.from_m) / 3);
        text += fmt::format(
            "\n[[fork]]\nmodel = \"two-tine\"\nat = \"{:.0f} mm\"\npoints = \"point\"\n\n"
            "[[fork]]\nmodel = \"two-tine\"\nat = \"{:.0f} mm\"\npoints = \"drive\"\n",
            1000 * (scan.from_m - free), 1000 * (scan.to_m + free));
    }
    return text;
}

TakenUnit unit_by_size(const ScanQuestion& question) {
    const double across = question.size.norm();
    const scan::UnitAnswer answer = scan::decide_unit({.length = across, .file = question.file.string()});
    TakenUnit taken;
    for (const scan::ScanUnit& unit : scan::scan_units()) {
        if (unit.metres == answer.metres_per_unit) taken.unit = unit.symbol;
    }
    taken.words =
        scan::words_of(scan::note::UnitTaken{answer.metres_per_unit, across * answer.metres_per_unit});
    return taken;
}

CleanedScan clean_scan(const std::filesystem::path& scan, const std::function<void(std::string_view)>& stage,
                       const std::optional<ScanTold>& told, const std::filesystem::path& folder) {
    stage("reading the scan");
    scan::ScanSettings settings;
    std::string now;
    settings.stage = [&](std::string_view begun) { stage(now = begun); };
    settings.keep_going = [&] { stage(now); };
    if (told) {
        if (!told->unit.empty()) settings.metres_per_unit = parse_length_unit(told->unit);
        settings.mass_kg = told->mass_kg;
        settings.rests_on = told->rests_on;
        settings.beside = told->beside;
    }
    std::vector<scan::RawScan> raw;
    raw.push_back({scan, read_scan_file(scan)});
    const scan::ScannedBody made = scan::make_body(raw, settings);
    stage("writing the body");
    std::filesystem::path body;
    std::error_code ignored;
    for (int number = 1; number == 1 || std::filesystem::exists(body, ignored); ++number) {
        const std::string name = number == 1 ? fmt::format("{}-body.ply", scan.stem().string())
                                             : fmt::format("{}-body-{}.ply", scan.stem().string(), number);
        body = (folder.empty() ? scan.parent_path() : folder) / name;
    }
    write_whole_file(body, scan::body_ply(made));
    return {body, fmt::format("The rough scan was closed and lies in {}: {}, surely to {}.",
                              body.filename().string(),
                              // Nobody knows yet who reads it.
                              fmt::format("{} ({})", Units(UnitSystem::metric).volume(made.report.volume_m3),
                                          Units(UnitSystem::us).volume(made.report.volume_m3)),
                              made.report.volume_m3 > 0
                                  ? share_text(made.report.volume_sigma_m3 / made.report.volume_m3)
                                  : std::string("no measure"))};
}

}  // namespace evenspit::viewer
