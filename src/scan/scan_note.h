// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <variant>

#include "scan/beside_thing.h"
#include "scan/scan_settings.h"
#include "units/quantity.h"

namespace evenspit::scan {

/// What may be said of a scan, each with its figures.
namespace note {

/// No unit was given, so this one was taken.
struct UnitTaken {
    double metres_per_unit = 1;
    double across_m = 0;  ///< the body, in it
};
/// A thing beside the body makes the scan larger or smaller than its own unit does.
struct ScaleMended {
    double share = 0;  ///< > 0: larger
    BesideThing::Kind by = BesideThing::Kind::can;
};
/// A closed surface, kept as it is.
struct CameClosed {};
/// A closed surface, part of which no camera saw: the program that made it closed it there, and it was closed
/// anew.
struct ClosedByApp {
    double share = 0;  ///< of the surface
};
/// The body rests on something, which was cut away.
struct CarrierCut {
    RestsOn what = RestsOn::rack;
    double height_m = 0;  ///< of its top over the board
};
/// The body is said to rest on something that is not seen.
struct CarrierUnseen {
    RestsOn what = RestsOn::rack;
};
/// Most of what the body comes down to was hidden: it may rest on something.
struct RestHidden {
    double below_m = 0;  ///< over the board
};
/// Low and wide, seen down to near the board, with flanks that do not curve under.
struct MaybeHollow {};
/// A bird and a body without a name explain what was seen nearly as well.
struct BirdOrRoast {
    bool bird = false;  ///< which it is taken for
};
/// A surface with holes: they were filled, the rest kept as it is.
struct HolesFilled {
    int holes = 1;
};
/// Two scans fit each other in another way almost as well.
struct FitsManyWays {};
/// Two scans do not quite fit each other.
struct ScansApart {
    double error_m = 0;
    double scatter_m = 0;  ///< of the points
};
/// The body lies the same way in both scans.
struct SameSideTwice {};
/// The weight over the volume is not what such a body can have.
struct DensityDoubted {
    double density_kg_m3 = 0, least_kg_m3 = 0, greatest_kg_m3 = 0;
    bool bird = false;
};
/// The weight told how far a body reaches where nobody looked: shares of its volume, σ.
struct WeightTells {
    double change = 0;  ///< of the volume
    double sigma_before = 0, sigma = 0;
};
/// Without a weight, the cavity is as large as the parametric bird's.
struct CavityAsUsual {};
struct NoRoomForCavity {};
struct LittleRoomForCavity {
    double placed_m3 = 0, wanted_m3 = 0;
};
/// Neck or vent, breast or back: it may be the other way round.
struct EndsUncertain {};
/// No bird fits, so that there are no named parts.
struct NoBird {
    enum class Axes {
        of_file,       ///< kept
        principal,     ///< none was named
        one_was_named  ///< the rest follows the principal axes
    };
    Axes axes = Axes::principal;
};
/// A side of the body that was not seen: scan again, turned over.
struct SideUnseen {
    enum class Side { neck, vent, right, left, breast, back };  ///< +x, −x, +y, −y, +z, −z of the item frame
    Side side = Side::back;
    bool bird = false;
};
struct PointsScatter {
    double noise_m = 0;
};
struct PointsSparse {
    double spacing_m = 0;
};
/// What was not seen leaves the body uncertain: standard deviations.
struct CentreUncertain {
    double centre_m = 0;
    double volume_share = 0;
};

}  // namespace note

using AnyScanNote =
    std::variant<note::UnitTaken, note::ScaleMended, note::CameClosed, note::ClosedByApp, note::CarrierCut,
                 note::CarrierUnseen, note::RestHidden, note::MaybeHollow, note::BirdOrRoast,
                 note::HolesFilled, note::FitsManyWays, note::ScansApart, note::SameSideTwice,
                 note::DensityDoubted, note::WeightTells, note::CavityAsUsual, note::NoRoomForCavity,
                 note::LittleRoomForCavity, note::EndsUncertain, note::NoBird, note::SideUnseen,
                 note::PointsScatter, note::PointsSparse, note::CentreUncertain>;

/// One of them. How so many kinds are copied and moved is compiled once, not by all that hold a note.
class ScanNote : public AnyScanNote {
  public:
    using AnyScanNote::AnyScanNote;
    ScanNote(const ScanNote& other);
    ScanNote(ScanNote&& other) noexcept;
    ScanNote& operator=(const ScanNote& other);
    ScanNote& operator=(ScanNote&& other) noexcept;
    ~ScanNote();
};

/// A note as a sentence or two, in the reader's units.
std::string words_of(const ScanNote& note, UnitSystem units = UnitSystem::metric);

}  // namespace evenspit::scan
