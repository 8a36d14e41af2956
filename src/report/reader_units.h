// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "units/quantity.h"
#include "units/tell.h"

namespace evenspit {

/// What stands where there is no figure to tell.
inline constexpr std::string_view no_figure = "–";

/// The one unit that all figures of an axis are told in.
struct AxisUnit {
    std::string name;  ///< "mm"
    double si = 1;     ///< how much of the SI unit one of it is
};

/// Figures in the reader's units, as finely as units/tell.h says; "not known" for what is not finite, "–" for
/// what is absent.
class Units {
  public:
    explicit Units(UnitSystem system) : system_(system) {}

    [[nodiscard]] std::string of(double si, Dimension dimension) const;
    /// "–" too for what is not finite: in a column of figures there is no room for words.
    [[nodiscard]] std::string of(const std::optional<double>& si, Dimension dimension) const;
    /// A place or a size.
    [[nodiscard]] std::string length(double si) const { return of(si, Dimension::length); }
    /// No less than what is needed.
    [[nodiscard]] std::string length_or_more(double si) const;
    /// A gap, cover, sag or depth; told apart from these limits.
    [[nodiscard]] std::string slack(double si, Limits limits = {0}) const;
    [[nodiscard]] std::string slack(const std::optional<double>& si, Limits limits = {0}) const;
    [[nodiscard]] std::string mass(double si) const { return of(si, Dimension::mass); }
    /// Fuel and beds of it, which nobody weighs and measures finely: two digits, whole centimetres or inches.
    [[nodiscard]] std::string rough_mass(double si) const;
    [[nodiscard]] std::string rough_length(double si) const;
    /// A weight to be found and set; one that the cook named is told by given().
    [[nodiscard]] std::string weight(double si) const { return weight_text(sensible(si), system_); }
    [[nodiscard]] std::string torque(double si) const { return of(si, Dimension::torque); }
    [[nodiscard]] std::string force(double si) const { return of(si, Dimension::force); }
    [[nodiscard]] std::string stress(double si) const { return of(si, Dimension::pressure); }
    [[nodiscard]] std::string speed(double si) const { return of(si, Dimension::angular_speed); }
    [[nodiscard]] std::string density(double si) const { return of(si, Dimension::density); }
    /// What someone wrote down or engraved, such as a motor's rating: with three digits, so that it is known
    /// again.
    [[nodiscard]] std::string given(double si, Dimension dimension) const;
    /// Of food, air or a fire: whole degrees; finer where that would be told as one of these limits.
    [[nodiscard]] std::string temperature(double kelvin, Limits limits = {}) const;
    /// A difference of temperatures, in whole degrees.
    [[nodiscard]] std::string degrees(double kelvin) const;
    /// In whole minutes: "35 min", "3 h 20 min".
    [[nodiscard]] static std::string minutes(double seconds);
    /// Litres or quarts. Volumes are no quantity that load files know.
    [[nodiscard]] std::string volume(double m3) const;
    /// kg m or lb in, likewise.
    [[nodiscard]] std::string unbalance(double kg_m) const;

    /// What a share of 1 is told as, in per cent; as of().
    [[nodiscard]] static std::string share(double of_one, Limits limits = {1}) {
        return share_text(of_one, limits);
    }
    [[nodiscard]] static std::string share(const std::optional<double>& of_one, Limits limits = {1});

    /// Of a chart's axis: mm or in, N m or lbf in, kg or lb; none for numbers. \pre one of these dimensions
    [[nodiscard]] AxisUnit axis(Dimension dimension) const;

    /// A round arm to hold a weight at, so that an unbalance can be pictured.
    [[nodiscard]] double picture_arm_m() const { return metric() ? 0.1 : 4 * 0.0254; }
    /// No roast is known to a millionth of a metre, a kilogram or a newton metre: what is smaller is
    /// rounding, and 0.
    [[nodiscard]] static double sensible(double si);
    [[nodiscard]] bool metric() const { return system_ == UnitSystem::metric; }
    [[nodiscard]] UnitSystem system() const { return system_; }

  private:
    UnitSystem system_;
};

/// Stations as a cook finds them: along the rod from its drive end and, where the rod has a mark, from that
/// too.
class Stations {
  public:
    Stations(UnitSystem system, std::optional<double> mark_m) : units_(system), mark_m_(mark_m) {}

    /// "190 mm"; with a mark "190 mm (165 mm past the mark)", "(12 mm before the mark)", "(at the mark)".
    [[nodiscard]] std::string operator()(double station_m) const;
    [[nodiscard]] bool has_mark() const { return mark_m_.has_value(); }
    /// In a column: toward the point from the mark, negative toward the drive. \pre has_mark()
    [[nodiscard]] std::string past_mark(double station_m) const {
        return units_.length(station_m - *mark_m_);
    }
    /// The words in the brackets; none without a mark.
    [[nodiscard]] std::string from_mark(double station_m) const;

  private:
    Units units_;
    std::optional<double> mark_m_;
};

}  // namespace evenspit
