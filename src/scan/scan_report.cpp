// SPDX-License-Identifier: MIT
#include "scan/scan_report.h"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace evenspit {

namespace {

// Told in a person's units, as finely as it may matter and no finer.
class Units {
  public:
    explicit Units(UnitSystem system) : system_(system) {}

    // Sizes and places, to a hundredth of a millimetre: what is a rounding's width from zero is zero.
    [[nodiscard]] std::string length(double m) const {
        return format_quantity(std::round(m * 1e5) / 1e5 + 0.0, Dimension::length, system_);
    }
    // Errors and gaps.
    [[nodiscard]] std::string small(double m) const {
        if (system_ == UnitSystem::us) return fmt::format("{:.3f} in", rounded(m / inch, 1e3));
        return fmt::format("{:.2f} mm", rounded(m * 1e3, 1e2));
    }
    [[nodiscard]] std::string mass(double kg) const { return format_quantity(kg, Dimension::mass, system_); }
    // The bare numbers of an area and a volume, with their units beside them.
    [[nodiscard]] double area(double m2) const { return m2 / std::pow(edge(), 2); }
    [[nodiscard]] const char* area_unit() const { return system_ == UnitSystem::us ? "in2" : "cm2"; }
    [[nodiscard]] double volume(double m3) const { return m3 / std::pow(edge(), 3); }
    [[nodiscard]] const char* volume_unit() const { return system_ == UnitSystem::us ? "in3" : "cm3"; }

  private:
    static constexpr double inch = 0.0254, centimetre = 0.01;

    // Without "-0.00".
    static double rounded(double value, double parts) { return std::round(value * parts) / parts + 0.0; }
    [[nodiscard]] double edge() const { return system_ == UnitSystem::us ? inch : centimetre; }

    UnitSystem system_;
};

// "1 stray", "3 strays".
std::string counted(std::size_t n, std::string_view one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}

std::string percent(double share) {
    return fmt::format("{:.1f} %", 100 * share);
}

// A line of the report: a name in a column, then what is to say.
void line(std::string& text, std::string_view name, const std::string& value) {
    text += fmt::format("{:<22}{}\n", name, value);
}

}  // namespace

std::string scan_report_text(const ScanReport& report, UnitSystem system) {
    const Units units(system);
    const auto length = [&](double m) { return units.length(m); };
    const auto small = [&](double m) { return units.small(m); };
    std::string text;
    for (const ScanPassReport& pass : report.passes) {
        line(text, "scan", pass.file);
        const std::string read = pass.triangles == 0 ? fmt::format("{} read", pass.points)
                                                     : fmt::format("{} and {} triangles read, sampled at {}",
                                                                   pass.points, pass.triangles, pass.sampled);
        line(text, "  points",
             fmt::format("{}, {} kept ({} board, {} clutter in {}, {}{})", read, pass.kept, pass.on_board,
                         pass.clutter, counted(pass.clutter_pieces, "piece"), counted(pass.strays, "stray"),
                         pass.not_finite ? fmt::format(", {} not finite", pass.not_finite) : ""));
        line(text, "  board",
             pass.board ? fmt::format("found and cut; warped by {}", small(pass.board_warp_m))
                        : std::string("none"));
        line(text, "  noise", fmt::format("{}, points {} apart", small(pass.noise_m), small(pass.spacing_m)));
        if (!pass.underside.empty()) {
            line(text, "  underside",
                 fmt::format("closed ({}), {:.0f} {}", pass.underside, units.area(pass.underside_area_m2),
                             units.area_unit()));
        }
    }
    if (report.registration) {
        line(text, "two scans",
             fmt::format("fit to {} over {} of the second, agreeing on {} of what both saw",
                         small(report.registration->error_m), percent(report.registration->overlap),
                         percent(report.registration->agreement)));
    }
    line(text, "body",
         (report.bird ? "a bird, like a " + report.kind : "no bird") +
             fmt::format(", {} long, {} wide, {} deep", length(report.size_m.x()), length(report.size_m.y()),
                         length(report.size_m.z())));
    line(text, "volume",
         fmt::format("{:.0f} ± {:.0f} {} (by chords {:.0f})", units.volume(report.volume_m3),
                     units.volume(report.volume_sigma_m3), units.volume_unit(),
                     units.volume(report.volume_by_chords_m3)));
    line(text, "centre of volume",
         fmt::format("{}, {}, {}; ± {}", length(report.centre_m.x()), length(report.centre_m.y()),
                     length(report.centre_m.z()), small(report.centre_sigma_m)));
    if (report.mass_kg && report.density_kg_m3) {
        line(text, "density",
             fmt::format("{:.0f} kg/m3 with {}", *report.density_kg_m3, units.mass(*report.mass_kg)));
    }
    if (report.cavity_m3) {
        line(text, "cavity",
             fmt::format("{:.0f} {}, from the {}", units.volume(*report.cavity_m3), units.volume_unit(),
                         report.cavity_from_mass ? "weight" : "anatomy alone"));
    }
    line(text, "surface",
         fmt::format("{} triangles, {}, {} self-intersections, {} dropped", report.triangles,
                     report.closed ? "closed" : "not closed", report.self_intersections,
                     report.pieces_dropped));
    line(text, "unseen",
         fmt::format("{} of the surface, in {}", percent(report.unseen_share),
                     counted(report.holes, "place")));
    line(text, "scan to body",
         fmt::format("mean {}, p95 {}, max {}", small(report.distance_mean_m), small(report.distance_p95_m),
                     small(report.distance_max_m)));
    line(text, "bias",
         fmt::format("{} taken away, {} left", small(report.offset_before_m), small(report.offset_after_m)));
    if (report.axes_from == "bird") {
        line(text, "axes",
             fmt::format("from a fitted bird ({} off), confidence {:.2f}", small(report.bird_error_m),
                         report.axis_confidence));
    } else {
        const bool named = report.axes_from == "user", kept = report.axes_from == "file";
        line(text, "axes", named ? "as named" : kept ? "the file's own" : report.axes_from);
    }
    for (const std::string& remark : report.remarks) text += "note: " + remark + "\n";
    for (const std::string& advice : report.advice) text += "better: " + advice + "\n";
    return text;
}

std::string scan_report_json(const ScanReport& report) {
    nlohmann::ordered_json json;
    for (const ScanPassReport& pass : report.passes) {
        nlohmann::ordered_json one;
        one["file"] = pass.file;
        one["points"] = pass.points;
        one["triangles"] = pass.triangles;
        one["sampled"] = pass.sampled;
        one["not_finite"] = pass.not_finite;
        one["kept"] = pass.kept;
        one["on_board"] = pass.on_board;
        one["clutter"] = pass.clutter;
        one["clutter_pieces"] = pass.clutter_pieces;
        one["strays"] = pass.strays;
        one["noise_m"] = pass.noise_m;
        one["spacing_m"] = pass.spacing_m;
        one["board"] = pass.board;
        if (pass.board) {
            one["board_tilt_deg"] = pass.board_tilt_deg;
            one["board_warp_m"] = pass.board_warp_m;
        }
        if (!pass.underside.empty()) {
            one["underside"] = pass.underside;
            one["underside_area_m2"] = pass.underside_area_m2;
            one["underside_guess_error_m"] = pass.guess_error_m;
        }
        json["passes"].push_back(std::move(one));
    }
    json["metres_per_unit"] = report.metres_per_unit;
    if (report.registration) {
        json["registration"] = {{"error_m", report.registration->error_m},
                                {"overlap", report.registration->overlap},
                                {"agreement", report.registration->agreement}};
    }
    json["bird"] = report.bird;
    if (report.bird) json["like"] = report.kind;
    json["volume_m3"] = report.volume_m3;
    json["volume_sigma_m3"] = report.volume_sigma_m3;
    json["volume_by_chords_m3"] = report.volume_by_chords_m3;
    json["centre_m"] = {report.centre_m.x(), report.centre_m.y(), report.centre_m.z()};
    if (const auto& c = report.centre_covariance_m2) {
        json["centre_sigma_m"] = report.centre_sigma_m;
        for (Eigen::Index k = 0; k < 3; ++k)
            json["centre_covariance_m2"].push_back({(*c)(k, 0), (*c)(k, 1), (*c)(k, 2)});
    }
    json["area_m2"] = report.area_m2;
    json["size_m"] = {report.size_m.x(), report.size_m.y(), report.size_m.z()};
    json["triangles"] = report.triangles;
    json["closed"] = report.closed;
    json["self_intersections"] = report.self_intersections;
    json["pieces_dropped"] = report.pieces_dropped;
    json["holes"] = report.holes;
    json["unseen_share"] = report.unseen_share;
    json["offset_before_m"] = report.offset_before_m;
    json["offset_after_m"] = report.offset_after_m;
    json["distance_mean_m"] = report.distance_mean_m;
    json["distance_p95_m"] = report.distance_p95_m;
    json["distance_max_m"] = report.distance_max_m;
    json["axes_from"] = report.axes_from;
    if (report.axis_confidence > 0) json["axis_confidence"] = report.axis_confidence;
    if (report.bird_error_m > 0) json["bird_error_m"] = report.bird_error_m;
    if (report.mass_kg) json["mass_kg"] = *report.mass_kg;
    if (report.density_kg_m3) json["density_kg_m3"] = *report.density_kg_m3;
    if (report.cavity_m3) {
        json["cavity_m3"] = *report.cavity_m3;
        json["cavity_from"] = report.cavity_from_mass ? "weight" : "anatomy";
    }
    json["remarks"] = report.remarks;
    json["advice"] = report.advice;
    return json.dump(2) + "\n";
}

}  // namespace evenspit
