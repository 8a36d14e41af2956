// SPDX-License-Identifier: MIT
#include "scan/scan.h"

#include "app/cli/verbs.h"
#include "scan/body_file.h"

namespace evenspit {

Outcome scan(const Request& request, Progress& progress) {
    ScanSettings settings;
    settings.metres_per_unit = request.scan.metres_per_unit;
    settings.mass_kg = request.scan.mass_kg;
    settings.keep_frame = request.scan.keep_frame;
    settings.axis = request.scan.axis;
    settings.up = request.scan.up;
    settings.stage = [&progress](std::string_view stage) { progress.now(stage); };

    std::vector<RawScan> raw;
    for (const std::filesystem::path& file : request.scan.raw) {
        progress.now("reading " + file.filename().string());
        raw.push_back({file, read_scan_file(file)});
    }
    const ScannedBody body = scan_body(raw, settings);
    progress.done();

    Outcome outcome;
    outcome.text = request.format == Format::json ? scan_report_json(body.report)
                                                  : scan_report_text(body.report, request.units);
    outcome.file = body_ply(body);
    return outcome;
}

}  // namespace evenspit
