// SPDX-License-Identifier: MIT
#include <cmath>

#include <fmt/format.h>

#include "report/reader_units.h"
#include "report/scan_report.h"
#include "report/text_layout.h"
#include "units/tell.h"

namespace evenspit {

namespace {

// What a scan is told in: a person's units.
class ScanUnits {
  public:
    explicit ScanUnits(UnitSystem system) : system_(system) {}

    [[nodiscard]] UnitSystem system() const { return system_; }

    // Sizes and places.
    [[nodiscard]] std::string length(double m) const { return length_text(m, system_); }
    // Errors and gaps.
    [[nodiscard]] std::string small(double m) const { return slack_text(Units::sensible(m), system_); }
    [[nodiscard]] std::string mass(double kg) const { return mass_text(kg, system_); }
    [[nodiscard]] std::string density(double kg_m3) const { return Units(system_).density(kg_m3); }
    // The bare numbers of an area and a volume, with their units beside them.
    [[nodiscard]] double area(double m2) const { return m2 / std::pow(edge(), 2); }
    [[nodiscard]] const char* area_unit() const { return system_ == UnitSystem::us ? "in2" : "cm2"; }
    [[nodiscard]] double volume(double m3) const { return m3 / std::pow(edge(), 3); }
    [[nodiscard]] const char* volume_unit() const { return system_ == UnitSystem::us ? "in3" : "cm3"; }

  private:
    static constexpr double inch = 0.0254, centimetre = 0.01;

    [[nodiscard]] double edge() const { return system_ == UnitSystem::us ? inch : centimetre; }

    UnitSystem system_;
};

// "1 stray", "3 strays".
std::string counted(std::size_t n, std::string_view one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}

// A line of the report: a name in a column, then what is to say.
void line(std::string& text, std::string_view name, const std::string& value) {
    text += fmt::format("{:<22}{}\n", name, value);
}

void add_pass(std::string& text, const scan::ScanPassReport& pass, const ScanUnits& units) {
    line(text, "scan", printable(pass.file));
    const std::string read = pass.triangles == 0 ? fmt::format("{} read", pass.points)
                                                 : fmt::format("{} and {} triangles read, sampled at {}",
                                                               pass.points, pass.triangles, pass.sampled);
    line(text, "  points",
         fmt::format("{}, {} kept ({} board, {} clutter in {}, {}{})", read, pass.kept, pass.on_board,
                     pass.clutter, counted(std::size_t(pass.clutter_pieces), "piece"),
                     counted(pass.strays, "stray"),
                     pass.not_finite ? fmt::format(", {} not finite", pass.not_finite) : ""));
    line(text, "  board",
         pass.board ? fmt::format("found and cut; warped by {}", units.small(pass.board_warp_m))
                    : std::string("none"));
    line(text, "  noise",
         fmt::format("{}, points {} apart", units.small(pass.noise_m), units.small(pass.spacing_m)));
    if (const auto& beside = pass.beside) {
        line(text, "  scale",
             fmt::format("from {}, seen in {} points: ± {:.1f} %",
                         scan::words_of(beside->thing, units.system()), beside->points, 100 * beside->sigma));
    }
    if (pass.underside.empty()) return;
    line(text, "  underside",
         fmt::format("closed ({}), {:.0f} {}", pass.underside, units.area(pass.underside_area_m2),
                     units.area_unit()));
}

void add_body(std::string& text, const scan::ScanReport& report, const ScanUnits& units) {
    const auto length = [&](double m) { return units.length(m); };
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
                     length(report.centre_m.z()), units.small(report.centre_sigma_m)));
    if (report.mass_kg && report.density_kg_m3) {
        line(text, "density",
             fmt::format("{} with {}", units.density(*report.density_kg_m3), units.mass(*report.mass_kg)));
    }
    if (report.cavity_m3) {
        line(text, "cavity",
             fmt::format("{:.0f} {}, from the {}", units.volume(*report.cavity_m3), units.volume_unit(),
                         report.cavity_from_mass ? "weight" : "anatomy alone"));
    }
}

void add_surface(std::string& text, const scan::ScanReport& report, const ScanUnits& units) {
    line(text, "surface",
         fmt::format("{} triangles, {}, {} self-intersections, {} dropped", report.triangles,
                     report.closed ? "closed" : "not closed", report.self_intersections,
                     report.pieces_dropped));
    line(text, "unseen",
         fmt::format("{} of the surface, in {}", share_text(report.unseen_share),
                     counted(std::size_t(report.holes), "place")));
    line(text, "scan to body",
         fmt::format("mean {}, p95 {}, max {}", units.small(report.distance_mean_m),
                     units.small(report.distance_p95_m), units.small(report.distance_max_m)));
    line(text, "bias",
         fmt::format("{} taken away, {} left", units.small(report.offset_before_m),
                     units.small(report.offset_after_m)));
}

std::string axes(const scan::ScanReport& report, const ScanUnits& units) {
    switch (report.axes_from) {
        case scan::AxesFrom::bird:
            return fmt::format("from a fitted bird ({} off), confidence {:.2f}",
                               units.small(report.bird_error_m), report.axis_confidence);
        case scan::AxesFrom::principal_axes:
            return "principal axes";
        case scan::AxesFrom::user:
            return "as named";
        case scan::AxesFrom::file:
            return "the file's own";
    }
    return "";
}

}  // namespace

std::string scan_report_text(const scan::ScanReport& report, UnitSystem system) {
    const ScanUnits units(system);
    std::string text;
    for (const scan::ScanPassReport& pass : report.passes) add_pass(text, pass, units);
    if (report.registration) {
        line(text, "scans together",
             fmt::format("fit to {} over {} of what one saw, agreeing on {} of what both saw",
                         units.small(report.registration->error_m), share_text(report.registration->overlap),
                         share_text(report.registration->agreement)));
    }
    if (report.scale_sigma)
        line(text, "scale", fmt::format("± {:.1f} %, which the ± below count in", 100 * *report.scale_sigma));
    add_body(text, report, units);
    add_surface(text, report, units);
    line(text, "axes", axes(report, units));
    for (const scan::ScanNote& remark : report.remarks)
        text += "note: " + scan::words_of(remark, system) + "\n";
    for (const scan::ScanNote& advice : report.advice)
        text += "better: " + scan::words_of(advice, system) + "\n";
    return text;
}

}  // namespace evenspit
