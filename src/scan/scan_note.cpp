// SPDX-License-Identifier: MIT
#include "scan/scan_note.h"

#include <array>
#include <cmath>
#include <cstddef>

#include <fmt/format.h>

#include "scan/scan_unit.h"
#include "units/tell.h"

namespace evenspit::scan {

namespace {

constexpr double inch = 0.0254;

class Words {
  public:
    explicit Words(UnitSystem units) : units_(units) {}

    std::string operator()(const note::UnitTaken& it) const {
        return fmt::format("No unit was given: taken as {}, which makes the body {} across.",
                           plural_of(it.metres_per_unit), length_text(it.across_m, units_));
    }
    std::string operator()(const note::ScaleMended& it) const {
        return fmt::format("The {} makes the scan {} {} than its own unit does; the {} is believed.",
                           name_of(it.by), share_text(std::abs(it.share)),
                           it.share > 0 ? "larger" : "smaller", name_of(it.by));
    }
    std::string operator()(const note::CameClosed&) const {
        return "The scan was closed already and is kept as it came.";
    }
    std::string operator()(const note::ClosedByApp& it) const {
        return fmt::format(
            "No camera saw {} of this surface: it is smooth or flat there, as the scanning app closed it. "
            "That "
            "part was guessed anew, and it may end higher or lower. Scan with the board in view, or twice, "
            "turned over.",
            share_text(it.share));
    }
    std::string operator()(const note::CarrierCut& it) const {
        return fmt::format(
            "The body seems to rest on {}, {} high: that was cut away. If it lies on the board, say so: "
            "rests on "
            "board.",
            carrier(it.what), small(it.height_m));
    }
    std::string operator()(const note::CarrierUnseen& it) const {
        if (it.what == RestsOn::stand)
            return "No stand was found under the body: how far down the body goes is a guess.";
        return fmt::format("No {} was found under the body: it is closed as if it lay on the board.",
                           std::string(carrier(it.what)).substr(2));
    }
    std::string operator()(const note::RestHidden& it) const {
        return fmt::format(
            "The lowest {} were hidden nearly all round: the body is taken to lie on the board. Say what it "
            "rests on (rests on board, rack, stand or tin), or scan again with the phone held lower.",
            small(it.below_m));
    }
    std::string operator()(const note::MaybeHollow&) const {
        return "Is it hollow beneath, as a rib roast is? Its lower edge looks so, and it is taken as a "
               "little "
               "hollow. Say kind ribs, or kind roast if it is solid. How far it is hollow only a second scan "
               "shows: turn it over, scan again, and "
               "give both scans.";
    }
    std::string operator()(const note::BirdOrRoast& it) const {
        return fmt::format(
            "It may be a bird or another roast, and is taken for {}. Say which: kind bird, or kind roast.",
            it.bird ? "a bird" : "no bird");
    }
    std::string operator()(const note::HolesFilled& it) const {
        return it.holes == 1
                   ? "The scan had a hole: it was filled, and the rest is kept as it came."
                   : fmt::format("The scan had {} holes: they were filled, and the rest is kept as it came.",
                                 it.holes);
    }
    std::string operator()(const note::FitsManyWays&) const {
        return "Two scans fit each other in more than one way almost as well: look whether the body is "
               "right. A skewer stuck in, seen in both, settles it.";
    }
    std::string operator()(const note::ScansApart& it) const {
        return fmt::format(
            "Two scans lie {} off each other where their points scatter by {}: did a limb move, is it "
            "the same body, and do both have the same unit?",
            small(it.error_m), small(it.scatter_m));
    }
    std::string operator()(const note::SameSideTwice&) const {
        return "The body lies on the same side in all scans: what is under it is still a guess.";
    }
    std::string operator()(const note::DensityDoubted& it) const {
        const auto density = [this](double kg_m3) {
            return format_quantity(kg_m3, Dimension::density, units_);
        };
        return fmt::format(
            "The weight and the volume do not fit together: {} where {} has {} to {}. Look "
            "at the unit, the weight, and whether {}.",
            density(it.density_kg_m3), it.bird ? "a drawn bird" : "meat", density(it.least_kg_m3),
            density(it.greatest_kg_m3),
            it.bird ? "the bird is stuffed" : "a board or plate is still under it");
    }
    std::string operator()(const note::WeightTells& it) const {
        return fmt::format(
            "What nobody saw was made to fit the weight, as far as scan and scale leave that open. "
            "The body is {} {} for it: its volume is right to {:.1f} %, by the scan alone to {:.1f} % "
            "(one standard deviation).",
            share_text(std::abs(it.change)), it.change < 0 ? "smaller" : "larger", 100 * it.sigma,
            100 * it.sigma_before);
    }
    std::string operator()(const note::CavityAsUsual&) const {
        return "No weight was given: the cavity is taken as large as the parametric bird's.";
    }
    std::string operator()(const note::NoRoomForCavity&) const {
        return "No cavity was put inside: it found no room under this skin.";
    }
    std::string operator()(const note::LittleRoomForCavity& it) const {
        const bool us = units_ == UnitSystem::us;
        const double edge = us ? inch : 0.01, unit = edge * edge * edge;
        return fmt::format("Only {:.0f} of {:.0f} {} of cavity found room inside.", it.placed_m3 / unit,
                           it.wanted_m3 / unit, us ? "in3" : "cm3");
    }
    std::string operator()(const note::EndsUncertain&) const {
        return "Which end is the neck, or which side the breast, is not certain: look at it in the viewer, "
               "or name axis and up.";
    }
    std::string operator()(const note::NoBird& it) const {
        switch (it.axes) {
            case note::NoBird::Axes::of_file:
                break;
            case note::NoBird::Axes::principal:
                return "No bird fits this scan: its axes are its principal axes, and it has no named parts.";
            case note::NoBird::Axes::one_was_named:
                return "No bird fits this scan: what was not named of its axes follows its principal axes, "
                       "and it has no named parts.";
        }
        return "No bird fits this scan: it has no named parts.";
    }
    std::string operator()(const note::SideUnseen& it) const {
        constexpr std::array of_bird{"neck end", "vent end", "right side", "left side", "breast", "back"};
        constexpr std::array of_other{"end at +x",  "end at -x",  "side at +y",
                                      "side at -y", "side at +z", "side at -z"};
        const auto side = std::size_t(it.side);
        return fmt::format("The {} was not seen: turn the {} over and scan again, and give that scan too.",
                           it.bird ? of_bird[side] : of_other[side], it.bird ? "bird" : "roast");
    }
    std::string operator()(const note::PointsScatter& it) const {
        return fmt::format("The points scatter by {}: go nearer, slower, in better light.",
                           small(it.noise_m));
    }
    std::string operator()(const note::PointsSparse& it) const {
        return fmt::format("The points are {} apart: scan finer.", small(it.spacing_m));
    }
    std::string operator()(const note::CentreUncertain& it) const {
        return fmt::format(
            "What was not seen is a guess, which leaves the centre uncertain by {} and the volume by {:.1f} "
            "% "
            "(one standard deviation): a second scan, turned over, gives both.",
            small(it.centre_m), 100 * it.volume_share);
    }

  private:
    static const char* carrier(RestsOn what) {
        switch (what) {
            case RestsOn::rack:
                return "a rack";
            case RestsOn::stand:
                return "a stand";
            case RestsOn::tin:
                return "a tin or a plate";
            case RestsOn::board:
            case RestsOn::automatic:
                break;
        }
        return "a board";
    }
    static const char* plural_of(double metres_per_unit) {
        for (const ScanUnit& unit : scan_units()) {
            if (unit.metres == metres_per_unit) return unit.plural;
        }
        return "units of its own";
    }
    [[nodiscard]] std::string small(double m) const { return slack_text(m, units_); }

    UnitSystem units_;
};

}  // namespace

ScanNote::ScanNote(const ScanNote& other) = default;
ScanNote::ScanNote(ScanNote&& other) noexcept = default;
ScanNote& ScanNote::operator=(const ScanNote& other) = default;
ScanNote& ScanNote::operator=(ScanNote&& other) noexcept = default;
ScanNote::~ScanNote() = default;

std::string words_of(const ScanNote& note, UnitSystem units) {
    return std::visit(Words(units), note);
}

}  // namespace evenspit::scan
