// SPDX-License-Identifier: MIT
#include "load/item_reader.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <map>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "body/scanned_skin.h"
#include "geometry/mesh_io.h"
#include "geometry/solid_check.h"
#include "load/arrangement.h"
#include "load/raw_scan_reader.h"
#include "load/shape_reader.h"
#include "scan/scan_unit.h"
#include "units/metric.h"
#include "units/quantity.h"
#include "units/quote.h"

namespace evenspit {

namespace {

using enum Dimension;

// What a scan that stands in the wrong unit is told by. Common practice, no source.
constexpr double longest_body_m = 3;
constexpr double shortest_body_m = 0.030;
// Scale weight and density × volume may differ by so much before it is worth telling.
constexpr double usual_disagreement = 0.05;

std::string fitting_scale(double scale) {
    return fmt::format("make it so with scale = {}", format_quantity(scale, number, UnitSystem::metric, 2));
}

// The keys of an item that only stand beside that, but for what names the scan or the shape itself.
std::vector<std::string_view> only_with(const TableReader& given, std::string_view what) {
    return keys_only_with(given.keys(), what);
}

void refuse_keys(TableReader& given, const std::vector<std::string_view>& keys, std::string_view expected) {
    for (const std::string_view key : keys) {
        if (given.has(key)) {
            given.complain(key, fmt::format("{} = {}", key, given.find(key)->shown()), std::string(expected),
                           "take it out");
        }
    }
}

// --- parametric bodies ---

std::optional<body::Body> read_shape_body(TableReader& given, Item& item, const KeptFiles* kept) {
    refuse_keys(given, only_with(given, "scan"), "this key only beside scan; the item has a shape");
    refuse_keys(given, only_with(given, "clean = true"), "this key only beside scan; the item has a shape");
    std::optional<body::Body> body = read_shape(given, kept);
    if (!body) return body;
    item.bird = body->pointed_ends_known;
    item.trussed = body->swung.empty();
    body->name = item.name;
    return body;
}

// --- scans ---

// Metres in a unit of the scan, from the file's format or the load file; nothing if they are at odds.
std::optional<double> scan_unit(TableReader& given, const MeshFile& file) {
    const auto word = given.text("scan_unit");
    if (!word) return file.metres_per_unit.value_or(1);
    if (file.metres_per_unit) {
        given.complain("scan_unit",
                       fmt::format("scan_unit = {} for a format that defines its own unit", in_quotes(*word)),
                       "no scan_unit", "take it out; scale = … makes the body larger or smaller");
        return std::nullopt;
    }
    try {
        return parse_length_unit(*word);
    } catch (const QuantityError& error) {
        given.complain("scan_unit", error.found(), error.expected(), error.mend());
        return std::nullopt;
    }
}

// Complains about a body of impossible size, unless the load file names the unit: what is stated is believed.
void check_size(TableReader& given, const MeshFile& file, double scale) {
    if (given.has("scan_unit")) return;
    const double longest = bounds(file.mesh).sizes().maxCoeff();
    if (longest <= longest_body_m && longest >= shortest_body_m) return;
    const std::string found = fmt::format("a body {} long", metric(longest, length));
    const std::string expected =
        fmt::format("one between {} and {}", metric(shortest_body_m, length), metric(longest_body_m, length));
    if (file.metres_per_unit) {
        given.complain(item_scan.key, found + " (the format counts in metres)", expected,
                       fitting_scale(scan::usual_body_m / longest));
        return;
    }
    const std::string unit = scan::likely_unit(longest / scale);
    given.complain(item_scan.key, found + " when its numbers are metres", expected,
                   unit == "m" ? fitting_scale(scale * scan::usual_body_m / longest)
                               : fmt::format("it looks like {0}: add scan_unit = \"{0}\"", unit));
}

// The scan as a closed mesh in metres, in the file's frame, and what it tells of its centre.
std::optional<MeshFile> read_scan(TableReader& given, const std::string& name, double scale) {
    const std::filesystem::path path = named_file(given, item_scan, name);
    MeshFile file;
    try {
        file = read_mesh(path);
    } catch (const InputError& error) {
        complain_at(given, item_scan.key, error);
        return std::nullopt;
    }
    const auto unit = scan_unit(given, file);
    if (!unit) return std::nullopt;
    const double metres = *unit * scale;
    file.mesh = scaled(file.mesh, metres);
    if (file.centre_covariance) *file.centre_covariance *= metres * metres;

    if (const SolidReport report = check_solid(file.mesh); !report.ok()) {
        given.complain(item_scan.key, fmt::format("{}: {}", path.string(), report.found),
                       "a closed mesh that bounds a solid", report.mend + "; or add clean = true");
        return std::nullopt;
    }
    const std::size_t before = given.complaints().count();
    check_size(given, file, scale);
    return given.complaints().count() == before ? std::optional(std::move(file)) : std::nullopt;
}

std::optional<body::Body> read_scan_body(TableReader& given, Item& item, Reading& reading) {
    const std::size_t before = given.complaints().count();
    refuse_keys(given, only_with(given, "shape"), "this key only beside a shape; the item is a scan");

    item.trussed = given.flag_or_usual("trussed");
    given.choice("cavity", cavity_words());
    if (given.flag_or_usual("clean")) {
        std::optional<body::Body> body = read_raw_scan(given, item.name, reading);
        item.bird = body && body->pointed_ends_known;
        return body;
    }
    refuse_keys(given, only_with(given, "clean = true"), "this key only beside clean = true");

    body::SolidBodyOptions options;
    const auto name = given.text(item_scan.key);
    options.name = item.name;
    options.mass_kg = given.quantity("mass");
    options.density_kg_m3 = given.quantity("density");
    options.align_to_principal_axes = !given.choice("frame", frame_words()).value_or(true);
    const double scale = given.number_or_usual("scale");
    given.text("scan_unit");
    if (given.complaints().count() != before) return std::nullopt;

    auto scan = read_scan(given, *name, scale);
    if (!scan) return std::nullopt;
    options.centre_covariance_m2 = scan->centre_covariance;
    options.scale_sigma = scan->scale_sigma;
    if (options.mass_kg && options.density_kg_m3) {
        const double implied = *options.mass_kg / volume_moments(scan->mesh).amount;
        if (std::abs(implied / *options.density_kg_m3 - 1) > usual_disagreement) {
            reading.remarks.push_back(fmt::format(
                "Mass and density of {} disagree: {} in the scan's volume make {}, not {}; the mass is used.",
                item.name, metric(*options.mass_kg, mass), metric(implied, density),
                metric(*options.density_kg_m3, density)));
        }
    }
    if (given.has("cavity")) {
        reading.remarks.push_back(fmt::format(
            "The scan of {} is taken as it is: a cavity counts as empty only where the mesh goes round it.",
            item.name));
    }
    try {
        body::Body body = body::body_of(body::skin_of(std::move(*scan)), options);
        item.bird = body.pointed_ends_known;
        return body;
    } catch (const InputError& error) {
        complain_at(given, item_scan.key, error);
        return std::nullopt;
    }
}

// --- how it sits ---

RodLine read_line(TableReader& given) {
    RodLine line;
    if (auto reader = given.table("line")) {
        line.from = reader->vector2("from").value_or(Vec2::Zero());
        line.to = reader->vector2("to").value_or(Vec2::Zero());
        reader->refuse_unknown();
    }
    return line;
}

Seat read_seat(TableReader& given) {
    Seat seat;
    seat.at_m = given.quantity("at").value_or(0);
    seat.facing = given.choice_or_usual("facing", facing_words());
    seat.turn_rad = given.quantity_or_usual("turn");
    seat.line = read_line(given);
    return seat;
}

// Complains of a body that does not sit on the rod. A null one is taken to lie at its origin.
void keep_seat_on_rod(TableReader& given, const Seat& seat, const body::Body* body, const Reading& reading) {
    if (body != nullptr && reading.rod_length_m) {
        const Box3 box = bounds(body->parts.front().mesh);
        if (sits_on_rod(seat, box.min().x(), box.max().x(), *reading.rod_length_m)) return;
    }
    keep_on_rod(given, "at", seat.at_m, reading);
}

// What is assumed of a body's limbs.
void remark_on_trussing(TableReader& given, const Item& item, const body::Body& body, Reading& reading) {
    if (given.has("trussed") || given.has("trussing")) return;
    if (item.bird) {
        reading.remarks.push_back(fmt::format(
            "How {} is trussed is not given; it is taken as tied tight, so that no limb swings.", item.name));
    } else if (body.trussing) {
        reading.remarks.push_back(
            fmt::format("How the legs of {} are tied is not given; they are taken as folded over the belly "
                        "and tied there.",
                        item.name));
    }
}

// A text of a table as it stands there; "" where there is none, which reading it will tell.
std::string text_at(const TableReader& given, std::string_view key) {
    const TomlNode* const value = given.find(key);
    return value != nullptr && value->kind == TomlNode::Kind::text ? value->text : "";
}

// What an item is called that has no name.
std::string usual_name(const TableReader& given) {
    if (given.has("shape")) return known_shape(text_at(given, "shape"));
    const TomlNode* const clean = given.find("clean");
    if (clean != nullptr && clean->boolean) return "scan";
    return std::filesystem::path(text_at(given, item_scan.key)).stem().string();
}

std::vector<Probe> read_probes(TableReader& given) {
    std::vector<Probe> probes;
    for (TableReader& reader : given.tables("probe")) {
        Probe probe;
        probe.name = reader.text("name").value_or("");
        probe.at = reader.vector3("at").value_or(Vec3::Zero());
        reader.refuse_unknown();
        probes.push_back(std::move(probe));
    }
    return probes;
}

}  // namespace

std::vector<std::string> item_names(const std::vector<TableReader>& items) {
    std::map<std::string, std::size_t> alike;
    for (const TableReader& item : items) {
        if (text_at(item, "name").empty()) ++alike[usual_name(item)];
    }
    std::vector<std::string> names;
    std::map<std::string, std::size_t> counted;
    for (const TableReader& item : items) {
        std::string& name = names.emplace_back(text_at(item, "name"));
        if (!name.empty()) continue;
        const std::string usual = usual_name(item);
        name = alike[usual] > 1 ? fmt::format("{} {}", usual, ++counted[usual]) : usual;
    }
    return names;
}

Item read_item(TableReader& given, std::string name, Reading& reading) {
    const std::size_t before = given.complaints().count();
    given.text("name");  // known by now; what is no text is told here
    Item item;
    item.name = std::move(name);
    item.seat = read_seat(given);
    item.bearing_strength_pa = given.quantity("bearing_strength");
    item.conductivity_w_m_k = given.quantity("conductivity");
    item.specific_heat_j_kg_k = given.quantity("specific_heat");
    item.evaporation = given.flag_or_usual("evaporation");
    item.probes = read_probes(given);

    std::optional<body::Body> body;
    if (given.has("shape") && given.has(item_scan.key)) {
        given.complain(item_scan.key, "scan beside shape", "one of the two",
                       "the body is either parametric or scanned");
    } else if (given.has("shape")) {
        body = read_shape_body(given, item, reading.kept);
    } else if (given.has(item_scan.key)) {
        body = read_scan_body(given, item, reading);
    } else {
        given.missing("shape", "a shape, or a scan", R"(add shape = "turkey", or scan = "file.ply")");
    }
    given.refuse_unknown();
    keep_seat_on_rod(given, item.seat, body ? &*body : nullptr, reading);
    if (!body || given.complaints().count() != before) return item;
    item.scanned = given.has("scan");
    remark_on_trussing(given, item, *body, reading);

    item.body = body::prepare(std::move(*body));
    item.pose = seat_pose(item.seat, item.body->bounds.min().x(), item.body->bounds.max().x());
    return item;
}

}  // namespace evenspit
