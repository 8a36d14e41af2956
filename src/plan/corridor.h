// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <limits>
#include <memory>
#include <utility>
#include <vector>

#include "body/joined_parts.h"
#include "load/assembly.h"

namespace evenspit::plan {

/// What keeps a rod from taking another line.
enum class RodLimit { bone, wall, cover, beside };

/// How well a line can be taken.
struct LinePassage {
    /// Room left beyond what is needed, m, at most 0.010; negative: the line cannot be taken, by so much.
    double slack_m = 0;
    RodLimit limit = RodLimit::beside;  ///< what is nearest to forbidding it
    double at = 0.5;                    ///< where on the stretch that is looked at, 0 to 1
};

/// Places where lines were tight, and how tight: room changes no faster than one moves, so that of many lines
/// much alike most are refused by these without asking the body.
class TightPlaces {
  public:
    struct Place {
        Vec3 at;  ///< item frame, m
        double slack_m = 0;
        RodLimit limit = RodLimit::beside;
    };

    void add(const Place& place);
    /// The first of the places for which that holds; null if there is none.
    template <class Test>
    const Place* find(const Test& refuses) {
        for (std::size_t k = 0; k < places_.size(); ++k) {
            if (!refuses(places_[k])) continue;
            // What refused one line refuses the next.
            std::swap(places_[k], places_[k / 2]);
            return &places_[k / 2];
        }
        return nullptr;
    }

  private:
    static constexpr std::size_t most = 48;
    std::vector<Place> places_;
    std::size_t next_ = 0;  // to be forgotten
};

/// How closely a line is looked at.
struct PassageLook {
    /// Stop once it is known that there is less slack than this; the answer is then some such passage.
    double enough_m = -std::numeric_limits<double>::infinity();
    /// Where to look first: where a line much like this one was tightest.
    double first_at = 0.5;
    /// What is known of lines asked before in this body; null: nothing, and nothing is kept.
    TightPlaces* known = nullptr;
};

/// The straight ways that a rod can really take through a body.
///
/// Where an open cavity runs through the body (a bird), the rod goes in at one opening and out at the other:
/// it lies in the cavity, does not touch the flesh but may press it aside by 3 mm (common practice, no
/// source), and clears all bones; only the tail may be pierced. Any other body is pierced from end to end:
/// through flesh, clear of bones, and with 8 mm of flesh over the rod from 20 mm behind the entry to 20 mm
/// before the exit (common practice, no source; the same as for tines).
///
/// The rod counts with the radius of the circle its section turns in.
class Corridor {
  public:
    Corridor(std::shared_ptr<const body::JoinedParts> parts, double rod_radius_m);

    /// To within half a millimetre between the places looked at.
    [[nodiscard]] LinePassage passage(const RodLine& line, const PassageLook& look = {}) const;

    /// What is left at one place well inside the body, item frame: no line through it has more slack.
    [[nodiscard]] double slack_at(const Vec3& place) const;

    /// A line that is in the middle of things: along the body's axis through both openings, or through the
    /// centre of mass.
    [[nodiscard]] RodLine middle() const;

  private:
    /// Of a rod whose axis is at that place.
    [[nodiscard]] LinePassage passage_at(const Vec3& place) const;
    [[nodiscard]] LinePassage through_cavity(const Vec3& a, const Vec3& b, const PassageLook& look) const;
    [[nodiscard]] LinePassage through_flesh(const Vec3& a, const Vec3& b, const PassageLook& look) const;

    std::shared_ptr<const body::JoinedParts> parts_;
    double rod_radius_m_;
};

}  // namespace evenspit::plan
