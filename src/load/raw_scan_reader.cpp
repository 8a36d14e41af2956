// SPDX-License-Identifier: MIT
#include "load/raw_scan_reader.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <vector>

#include <fmt/format.h>

#include "scan/scan.h"
#include "units/quantity.h"

namespace evenspit {

namespace {

std::vector<std::string> read_files(TableReader& given) {
    const TomlNode* const scan = given.find(item_scan.key);
    if (scan->kind == TomlNode::Kind::text) return {scan->text};
    std::vector<std::string> files;
    const bool texts = scan->kind == TomlNode::Kind::array &&
                       std::all_of(scan->elements.begin(), scan->elements.end(),
                                   [](const TomlNode& n) { return n.kind == TomlNode::Kind::text; });
    if (texts) {
        for (const TomlNode& file : scan->elements) files.push_back(file.text);
    }
    if (files.empty() || files.size() > scan::most_scans) {
        given.complain(item_scan.key, scan->shown(),
                       fmt::format("the name of a file, or a list of at most {}", scan::most_scans),
                       R"(write scan = ["lying.ply", "turned.ply"])");
        return {};
    }
    return files;
}

// A direction in the file's axes.
std::optional<Vec3> read_direction(TableReader& given, std::string_view key) {
    const TomlNode* const node = given.find(key);
    if (!node) return std::nullopt;
    const bool numbers = node->kind == TomlNode::Kind::array && node->elements.size() == 3 &&
                         std::all_of(node->elements.begin(), node->elements.end(), [](const TomlNode& n) {
                             return n.kind == TomlNode::Kind::number && std::isfinite(n.number);
                         });
    const Vec3 v = numbers
                       ? Vec3(node->elements[0].number, node->elements[1].number, node->elements[2].number)
                       : Vec3(Vec3::Zero());
    const Vec3 direction = v.stableNormalized();
    if (std::abs(direction.norm() - 1) > 1e-9) {
        given.complain(key, node->shown(), "a list of 3 plain numbers, not all zero",
                       fmt::format("write {} = [1, 0, 0]", key));
        return std::nullopt;
    }
    return direction;
}

// Where the complaint belongs: at the key that it minds if that is there, else at the scan.
void complain_of_scan(TableReader& given, const InputError& error) {
    const std::string& key = error.complaints().front().key;
    complain_at(given, given.node().find(key) != nullptr ? key : item_scan.key, error);
}

}  // namespace

std::optional<body::Body> read_raw_scan(TableReader& given, const std::string& name, Reading& reading) {
    const std::size_t before = given.complaints().count();
    scan::ScanSettings settings;
    const std::vector<std::string> files = read_files(given);
    settings.mass_kg = given.quantity("mass");
    const auto density = given.quantity("density");
    settings.keep_frame = given.choice("frame", frame_words()).value_or(false);
    settings.rests_on = given.choice("rests_on", rests_on_words()).value_or(scan::RestsOn::automatic);
    settings.kind = given.choice("kind", roast_kind_words()).value_or(scan::RoastKind::automatic);
    if (const auto beside = given.text("beside")) {
        try {
            settings.beside = scan::parse_beside(*beside);
        } catch (const QuantityError& error) {
            given.complain("beside", error.found(), error.expected(), error.mend());
        }
    }
    settings.axis = read_direction(given, "axis");
    settings.up = read_direction(given, "up");
    const double scale = given.number_or_usual("scale");
    // What stands beside a body that is made larger grows with it.
    if (settings.beside) settings.beside->size_m *= scale;
    if (settings.axis && settings.up && settings.axis->cross(*settings.up).norm() < 0.1)
        given.complain("up", "an up that looks as the axis does", "one across it", "");
    if (settings.mass_kg && density) {
        given.complain("density", given.find("density")->shown(), "no density beside a mass",
                       "take it out: the scan's volume and the weight give it");
    }
    if (const auto unit = given.text("scan_unit")) {
        try {
            settings.metres_per_unit = parse_length_unit(*unit);
        } catch (const QuantityError& error) {
            given.complain("scan_unit", error.found(), error.expected(), error.mend());
        }
    }
    if (given.complaints().count() != before) return std::nullopt;

    try {
        std::vector<scan::RawScan> scans;
        for (const std::string& file : files) {
            const std::filesystem::path path = named_file(given, item_scan, file);
            ScanFile content = read_scan_file(path);
            content.mesh = scaled(content.mesh, scale);
            if (content.centre_covariance) *content.centre_covariance *= scale * scale;
            scans.push_back({path, std::move(content)});
        }
        const scan::ScannedBody scanned = scan::make_body(scans, settings);
        body::Body body = scan::to_body(scanned, name, settings.mass_kg, density);
        for (const scan::ScanNote& remark : scanned.report.remarks)
            reading.remarks.push_back(fmt::format("{}: {}", name, scan::words_of(remark)));
        for (const scan::ScanNote& advice : scanned.report.advice)
            reading.remarks.push_back(fmt::format("{}: {}", name, scan::words_of(advice)));
        return body;
    } catch (const InputError& error) {
        complain_of_scan(given, error);
        return std::nullopt;
    }
}

}  // namespace evenspit
