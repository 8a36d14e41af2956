// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "load/thing.h"
#include "report/caution_words.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/motor_words.h"
#include "report/page.h"
#include "report/reader_units.h"
#include "report/report.h"
#include "report/text_layout.h"
#include "report/topic_words.h"
#include "units/dial.h"

namespace evenspit {
namespace {

void add_verdict(Page& page, const Assembly& assembly, const Analysis& analysis) {
    const Level verdict = analysis.verdict;
    page.marked(level_mark(verdict), ink_of(verdict), verdict_words(verdict, analysis.mounted), 0);
    const std::string title = printable(assembly.title);
    const std::string file = printable(assembly.file);
    page.paragraph(title.empty() || file.empty() ? title + file : fmt::format("{} ({})", title, file));
}

// A passed check has a value and a limit and asks for nothing: the figures tell it. Assumptions come last, on
// their own.
enum class Told { to_fix, in_passing, as_assumption, by_the_figures };

Told told(const Finding& finding) {
    if (finding.level != Level::ready) return Told::to_fix;
    if (finding.code == Code::assumption) return Told::as_assumption;
    // That a piece needs no fork is worth a line.
    const auto* grip = std::get_if<GripFacts>(&finding.facts);
    if (grip != nullptr && grip->rod_alone) return Told::in_passing;
    return finding.value && finding.limit ? Told::by_the_figures : Told::in_passing;
}

void add_findings(Page& page, std::string_view heading, const Assembly& assembly, const Analysis& analysis,
                  Told kind, UnitSystem units) {
    const std::vector<Finding>& findings = analysis.findings;
    const auto wanted = [&](const Finding& f) { return told(f) == kind; };
    if (std::none_of(findings.begin(), findings.end(), wanted)) return;
    page.heading(heading);
    for (const Finding& finding : findings) {
        if (!wanted(finding)) continue;
        const bool fix = kind == Told::to_fix;
        page.marked(fix ? level_mark(finding.level) : "-", fix ? ink_of(finding.level) : Ink::plain,
                    finding_text(finding, assembly, units));
    }
}

void add_items(Page& page, const std::vector<Item>& items, const Units& units) {
    if (items.empty()) return;
    page.heading("Items");
    Table table({{"item", false, true},
                 {"mass", true},
                 {"density", true},
                 {"centre of mass x, y, z", true},
                 {"mass from"}});
    for (const Item& item : items) {
        const Moments& mass = item.body->mass;
        const Vec3& c = mass.centre;
        table.add_row(
            {printable(item.name), units.mass(mass.amount), units.density(mass.amount / item.body->volume_m3),
             fmt::format("{}, {}, {}", units.length(c.x()), units.length(c.y()), units.length(c.z())),
             item.body->body.mass_model == body::MassModel::scale_weight ? "the scale" : "density"});
    }
    page.table(table);
}

// The curve, thinned to `columns` bars, and its two extremes.
void add_torque_curve(Page& page, const std::vector<std::array<double, 2>>& curve, const Units& units) {
    std::vector<std::array<double, 2>> points;
    for (const auto& point : curve) {
        if (std::isfinite(point[0]) && std::isfinite(point[1])) points.push_back(point);
    }
    if (points.empty()) return;
    const auto columns = static_cast<std::size_t>(std::clamp(page.room() - Page::label_width, 12, 36));
    std::vector<double> torques;
    for (std::size_t i = 0; i < columns; ++i) torques.push_back(points[i * points.size() / columns][1]);
    const auto by_torque = [](const auto& a, const auto& b) { return a[1] < b[1]; };
    const auto [least, most] = std::minmax_element(points.begin(), points.end(), by_torque);
    if (Units::sensible((*most)[1] - (*least)[1]) == 0) {
        page.figure("over one turn", "the same at every angle");
        return;
    }
    page.figure("over one turn", bars(torques));
    page.figure("", fmt::format("least {} at {:.0f}°, most {} at {:.0f}°", units.torque((*least)[1]),
                                (*least)[0], units.torque((*most)[1]), (*most)[0]));
}

void add_speed(Page& page, const Turning& turning, const Units& units) {
    if (turning.stalls) {
        page.figure("speed", "the motor stands still under this load");
    } else if (turning.speed_mean_rad_s) {
        std::string words = units.speed(*turning.speed_mean_rad_s) + " on average";
        if (turning.speed_min_rad_s && turning.speed_max_rad_s) {
            words += fmt::format(", from {} to {}", units.speed(*turning.speed_min_rad_s),
                                 units.speed(*turning.speed_max_rad_s));
        }
        if (turning.irregularity) words += fmt::format(", uneven by {}", Units::share(*turning.irregularity));
        page.figure("speed", words);
    }
    if (turning.overruns) {
        page.figure("overrun",
                    fmt::format("over {} of each turn the load drives the gears, with up to {}",
                                Units::share(turning.overrun_share), units.torque(turning.pull_n_m)));
    }
    if (turning.knock_n_m)
        page.figure("knock", "up to " + units.torque(*turning.knock_n_m) + " in the drive's play");
}

// One significant digit without a power of ten: "0.00009".
std::string small_share(double share) {
    const int decimals = share > 0 ? static_cast<int>(std::ceil(-std::log10(share))) : 0;
    return fmt::format("{:.{}f}", share, std::clamp(decimals, 0, 9));
}

std::string centrifugal_words(double over_weight) {
    // From a hundredth of the weight on, the static answer is no longer the whole one.
    constexpr double negligible = 0.01;
    constexpr double nothing_to_speak_of = 1e-6;
    const std::string share =
        over_weight < nothing_to_speak_of ? "less than a millionth" : small_share(over_weight);
    const std::string figure = "Centrifugal force at this speed is " + share + " of the weight: ";
    return figure + (over_weight < negligible
                         ? "one counterweight is enough, balancing in two planes is not needed."
                         : "one counterweight may leave it shaking, balance in two planes.");
}

void add_motor(Page& page, const Motor& motor, const Balance& balance, const Turning& turning,
               const Units& units) {
    page.heading("Balance and motor");
    page.figure("all that turns", units.mass(balance.mass_kg) + ", the rod included");
    if (std::isfinite(balance.unbalance_kg_m_size)) {
        const double arm = units.picture_arm_m();
        page.figure("unbalance",
                    fmt::format("{}, as {} held {} off the rod", units.unbalance(balance.unbalance_kg_m_size),
                                units.weight(balance.unbalance_kg_m_size / arm), units.length(arm)));
        if (Units::sensible(balance.unbalance_kg_m_size) > 0) {
            page.figure("heavy side", fmt::format("at {}, seen from the point",
                                                  dial_and_clock_text(balance.heavy_side_rad)));
        }
    }
    std::string torques =
        fmt::format("{} at most: {} gravity, {} friction", units.torque(balance.motor_torque_peak_n_m),
                    units.torque(balance.gravity_torque_peak_n_m), units.torque(balance.friction_torque_n_m));
    if (balance.tumbling_torque_n_m > 0)
        torques +=
            fmt::format(" ({} of it loose pieces that tumble)", units.torque(balance.tumbling_torque_n_m));
    if (balance.flats > 0)
        torques +=
            fmt::format(", {} to lift the rod over its corners", units.torque(balance.flats_torque_peak_n_m));
    page.figure("turning torque", torques);
    page.figure("motor",
                fmt::format("rated {}, {} used", shared_torque(motor, balance.rated_torque_n_m, units),
                            Units::share(balance.motor_use, {limits::motor_care, limits::motor_stop})));
    if (balance.cooked)
        page.figure("worst moment", "when it is done: it pulls harder then than at the start");
    add_torque_curve(page, balance.curve, units);
    add_speed(page, turning, units);
    if (std::isfinite(balance.centrifugal_over_weight)) {
        page.paragraph(centrifugal_words(balance.centrifugal_over_weight), Page::margin);
    }
}

void add_uncertainty(Page& page, const Assembly& assembly, const Analysis& analysis, const Units& units) {
    if (!analysis.uncertainty) return;
    const Uncertainty& uncertainty = *analysis.uncertainty;
    page.heading("How sure this is");
    page.figure("gravity torque",
                fmt::format("under {} in 95 of 100 mountings ({} tried)",
                            units.torque(uncertainty.gravity_torque_p95_n_m), uncertainty.samples));
    constexpr double worth_telling = 0.02;
    if (uncertainty.of_scans_n_m() > worth_telling * uncertainty.gravity_torque_p95_n_m) {
        page.figure("of it the scan", fmt::format("{} for what it did not see; seen all round, under {}",
                                                  units.torque(uncertainty.of_scans_n_m()),
                                                  units.torque(*uncertainty.gravity_torque_p95_seen_n_m)));
    }
    if (analysis.mounted && !analysis.mounted->drivers.empty())
        page.figure("balance hangs on", drivers_text(analysis.mounted->drivers, assembly));
    page.figure("chance of a stall", uncertainty.stall_probability > 0
                                         ? Units::share(uncertainty.stall_probability)
                                         : std::string("none stalled"));
}

void add_rod(Page& page, const RodResult& rod, const Units& units, const Stations& station) {
    page.heading("Rod");
    page.figure("supports carry",
                fmt::format("{} at the drive, {} at the far bearing", units.force(rod.reactions_n[0]),
                            units.force(rod.reactions_n[1])));
    page.figure("sag", fmt::format("{} at station {}", units.slack(rod.sag_max_m, {0, limits::sag_care_m}),
                                   station(rod.sag_at_m)));
    page.figure("stress", fmt::format("{} at station {}, {} of its yield strength",
                                      units.stress(rod.stress_max_pa), station(rod.stress_at_m),
                                      Units::share(rod.yield_use, {limits::yield_care, limits::yield_stop})));
}

Column past_mark_column() {
    return {"past mark", true};
}

// "80 mm", or "72 to 80 mm" where the values differ in print; "none" for no values.
std::string span_of(const std::vector<double>& values, const Units& units) {
    if (values.empty()) return "none";
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    std::string from = units.length(*least);
    const std::string to = units.length(*most);
    if (from == to) return from;
    // One unit is enough where both are a single figure in the same one.
    const auto unit_of = [](const std::string& text) {
        return text.substr(std::min(text.find(' '), text.size()));
    };
    const std::string unit = unit_of(to);
    const bool shared = unit_of(from) == unit && unit.rfind(' ') == 0;
    return (shared ? from.substr(0, from.size() - unit.size()) : from) + " to " + to;
}

void add_fork_table(Page& page, const Assembly& assembly, const Grip& grip, const Units& units,
                    const Stations& station) {
    std::vector<Column> columns{{""}, {"at", true}};
    if (station.has_mark()) columns.push_back(past_mark_column());
    for (const char* head : {"carries", "holds", "raw", "in flesh", "cover"}) columns.push_back({head, true});
    Table table(columns);
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        const ForkGrip& fork = grip.forks[f];
        std::vector<double> in_flesh;
        std::optional<double> cover;
        for (const TineGrip& tine : fork.tines) {
            in_flesh.push_back(tine.in_flesh_m());
            if (tine.cover_min_m) cover = std::min(cover.value_or(*tine.cover_min_m), *tine.cover_min_m);
        }
        std::vector<std::string> cells{fork_name(assembly.forks, f), units.length(fork.at_m)};
        if (station.has_mark()) cells.push_back(station.past_mark(fork.at_m));
        cells.push_back(Units::share(fork.weight_share));
        if (assembly.forks[f].kind == ForkKind::basket) {
            cells.insert(cells.end(), 4, "–");  // it holds by its wires
        } else {
            cells.insert(cells.end(), {units.torque(fork.torque_capacity_n_m),
                                       units.torque(fork.torque_capacity_raw_n_m), span_of(in_flesh, units),
                                       cover ? units.slack(*cover, {0, limits::cover_care_m})
                                       : assembly.forks[f].kind == ForkKind::bracket ? "–"
                                                                                     : "none"});
        }
        table.add_row(std::move(cells));
    }
    page.table(table);
}

void add_forks(Page& page, const Assembly& assembly, const Grip& grip, const Units& units,
               const Stations& station) {
    if (grip.forks.empty() && !grip.torque_use) return;
    const bool only_forks = std::all_of(assembly.forks.begin(), assembly.forks.end(),
                                        [](const Fork& fork) { return fork.kind == ForkKind::fork; });
    page.heading(grip.forks.empty() ? "Grip of the rod alone" : only_forks ? "Forks" : "What holds it");
    if (!grip.forks.empty()) add_fork_table(page, assembly, grip, units, station);
    if (grip.torque_use && grip.torque_capacity_n_m) {
        page.figure("grip",
                    fmt::format("{} used of the {} held in the worst state of the cook",
                                Units::share(*grip.torque_use, {limits::grip_care, limits::grip_stop}),
                                units.torque(*grip.torque_capacity_n_m)));
    }
}

void add_clearance(Page& page, const Assembly& assembly, const Clearance& clearance, const Units& units,
                   const Stations& station) {
    if (clearance.surfaces.empty()) return;
    page.heading("Clearance, sag included");
    std::vector<Column> columns{
        {"surface", false, true}, {"gap", true}, {"keep", true}, {"at station", true}};
    if (station.has_mark()) columns.push_back(past_mark_column());
    columns.insert(columns.end(), {{"part", false, true}, {""}});
    Table table(columns);
    for (const SurfaceGap& surface : clearance.surfaces) {
        const std::string_view mark = surface.gap_m < 0                    ? "STRIKES"
                                      : surface.gap_m < limits::gap_stop_m ? "TOO CLOSE"
                                      : surface.gap_m < surface.keep_m     ? "close"
                                                                           : "";
        std::vector<std::string> cells{
            printable(surface.name), units.slack(surface.gap_m, {0, limits::gap_stop_m, surface.keep_m}),
            slack_beside(surface.gap_m, surface.keep_m, units.system()).limit, units.length(surface.at_m)};
        if (station.has_mark()) cells.push_back(station.past_mark(surface.at_m));
        cells.insert(cells.end(), {printable(thing_name(surface.part, assembly)), std::string(mark)});
        table.add_row(std::move(cells));
    }
    page.table(table);
}

}  // namespace

std::string_view level_mark(Level level) {
    return level == Level::stop ? "STOP" : level == Level::care ? "CARE" : "READY";
}

std::string_view verdict_sentence(Level verdict) {
    return verdict == Level::stop   ? "Do not put this load on the fire as it stands."
           : verdict == Level::care ? "It can turn. Fix these first."
                                    : "Nothing to fix.";
}

std::string text_report(const Assembly& assembly, const Analysis& analysis, const TextOptions& options) {
    const Units units(options.units);
    Page page(options);
    add_verdict(page, assembly, analysis);
    add_findings(page, "To fix, worst first", assembly, analysis, Told::to_fix, options.units);
    add_findings(page, "Good to know", assembly, analysis, Told::in_passing, options.units);
    add_items(page, assembly.items, units);
    add_motor(page, assembly.motor, analysis.balance, analysis.turning, units);
    add_uncertainty(page, assembly, analysis, units);
    const Stations station(options.units, assembly.rod.mark_m);
    add_rod(page, analysis.rod, units, station);
    add_forks(page, assembly, analysis.grip, units, station);
    add_clearance(page, assembly, analysis.clearance, units, station);
    add_findings(page, "Assumed", assembly, analysis, Told::as_assumption, options.units);
    put_cautions(page, assembly, options.units);
    if (const std::string more = read_more_text(analysis.findings); !more.empty()) {
        page.gap();
        page.paragraph(more);
    }
    return page.text();
}

}  // namespace evenspit
