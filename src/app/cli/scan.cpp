// SPDX-License-Identifier: MIT
#include "app/cli/scan.h"

#include <algorithm>
#include <locale>
#include <sstream>
#include <utility>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/verbs.h"
#include "load/key_words.h"
#include "report/scan_report.h"
#include "scan/body_file.h"
#include "scan/scan.h"
#include "units/listed.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

Vec3 direction(const char* option, const std::string& text) {
    std::istringstream words(text);
    words.imbue(std::locale::classic());
    Vec3 v;
    char comma = 0, second_comma = 0;
    words >> v.x() >> comma >> v.y() >> second_comma >> v.z();
    const bool understood = words && words.peek() == std::istringstream::traits_type::eof();
    if (!understood || comma != ',' || second_comma != ',' || !(v.norm() > 0))
        refuse_option(option, fmt::format("'{}'", text), "three numbers, not all zero: 1,0,0");
    return v;
}

template <typename E>
E told_word(const Words& words, const char* option, const KeyWords<E>& known, E otherwise) {
    const auto told = words.text(option);
    if (!told) return otherwise;
    const auto found =
        std::find_if(known.begin(), known.end(), [&](const auto& word) { return word.first == *told; });
    if (found == known.end())
        refuse_option(option, fmt::format("'{}'", *told), listed(names_of(known), "or"));
    return found->second;
}

Outcome closed_body(const Request& request, const ScanRequest& told, Progress& progress) {
    scan::ScanSettings settings;
    settings.metres_per_unit = told.metres_per_unit;
    settings.mass_kg = told.mass_kg;
    settings.keep_frame = told.keep_frame;
    settings.axis = told.axis;
    settings.up = told.up;
    settings.rests_on = told.rests_on;
    settings.kind = told.kind;
    settings.beside = told.beside;
    settings.stage = [&progress](std::string_view stage) { progress.now(stage); };

    std::vector<scan::RawScan> raw;
    for (const std::filesystem::path& file : request.inputs) {
        progress.now("reading " + file.filename().string());
        raw.push_back({file, read_scan_file(file)});
    }
    const scan::ScannedBody body = scan::make_body(raw, settings);
    progress.done();

    Outcome outcome;
    outcome.text = request.format == Format::json ? scan_report_json(body.report)
                                                  : scan_report_text(body.report, request.units);
    outcome.file = scan::body_ply(body);
    return outcome;
}

Request understood_scan(const Words& words) {
    Request request = common_request(words);
    for (const std::string& file : words.texts("RAW")) request.inputs.emplace_back(file);
    if (request.inputs.empty()) throw UsageError("scan needs a raw scan: scan RAW.ply -o BODY.ply");
    if (request.inputs.size() > scan::most_scans) {
        throw UsageError(fmt::format("scan takes at most {} scans of one body; here are {}", scan::most_scans,
                                     request.inputs.size()));
    }
    if (!request.output) throw UsageError("scan needs the name of the body to write: -o BODY.ply");
    if (request.output->extension() != ".ply")
        throw UsageError(fmt::format("the body is written as PLY; name '{}' so that it ends in .ply",
                                     request.output->string()));
    request.inputs_are_loads = false;
    request.text_to_output = false;
    request.deed = [told = scan_request(words)](const Request& asked, const Surroundings&,
                                                Progress& progress) {
        return closed_body(asked, told, progress);
    };
    return request;
}

}  // namespace

ScanRequest scan_request(const Words& words) {
    ScanRequest scan;
    if (const std::string unit = scan_unit_of(words); !unit.empty())
        scan.metres_per_unit = parse_length_unit(unit);
    if (const auto mass = words.text("--mass"))
        scan.mass_kg = option_quantity("--mass", *mass, Dimension::mass, Range::positive);
    const std::string frame = words.text("--frame").value_or("auto");
    if (frame != "auto" && frame != "file")
        refuse_option("--frame", fmt::format("'{}'", frame), "auto or file");
    scan.keep_frame = frame == "file";
    scan.rests_on = told_word(words, "--rests-on", rests_on_words(), scan.rests_on);
    scan.kind = told_word(words, "--kind", roast_kind_words(), scan.kind);
    if (const auto beside = words.text("--beside")) {
        try {
            scan.beside = scan::parse_beside(*beside);
        } catch (const QuantityError& error) {
            refuse_option("--beside", error.found(), error.expected(), error.mend());
        }
    }
    if (const auto axis = words.text("--axis")) scan.axis = direction("--axis", *axis);
    if (const auto up = words.text("--up")) scan.up = direction("--up", *up);
    if (scan.axis && scan.up && !(scan.axis->normalized().cross(scan.up->normalized()).norm() > 0.1))
        throw UsageError("--axis and --up look the same way; expected them across each other");
    return scan;
}

Verb scan_verb() {
    const auto value = [](const char* name, const char* about, const char* type,
                          std::vector<std::string> words = {}) {
        return WordSpec{WordSpec::Kind::value, name, about, type, std::move(words)};
    };
    return {
        .name = "scan",
        .summary = "A closed body from a rough scan, or from several",
        .example = "scan bird.ply --mass \"13 lb\" -o body.ply",
        .words = {{.kind = WordSpec::Kind::operands,
                   .names = "RAW",
                   .about = "The scan, or several: as it lies, turned over",
                   .files = "*"},
                  json_flag(),
                  quiet_flag(),
                  output_option("Write the body to FILE (PLY, metres), whole or not at all"),
                  scan_unit_option(),
                  value("--mass", "Scale weight, giblets out: \"13 lb\"", "MASS"),
                  value("--rests-on", "What it lies on, where that cannot be seen", "WHAT",
                        names_of(rests_on_words())),
                  value("--kind", "What it is: roast is solid beneath, ribs are hollow there", "KIND",
                        names_of(roast_kind_words())),
                  value("--beside", "Of known size on the board: \"can 73 mm\", \"block 10 cm\"", "THING"),
                  value("--frame", "auto: the item frame (default); file: the scan's own axes", "FRAME",
                        {"auto", "file"}),
                  value("--axis", "Where the neck looks in the scan's axes: 1,0,0", "X,Y,Z"),
                  value("--up", "Where the breast looks in the scan's axes: 0,0,1", "X,Y,Z"),
                  units_option()},
        .understand = understood_scan};
}

}  // namespace evenspit
