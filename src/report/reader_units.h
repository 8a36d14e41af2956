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

/// Figures in the reader's units; "not known" for what is not finite, "–" for what is absent.
class Units {
  public:
    explicit Units(UnitSystem system) : system_(system) {}

    [[nodiscard]] std::string of(double si, Dimension dimension) const;
    /// "–" too for what is not finite: in a column of figures there is no room for words.
    [[nodiscard]] std::string of(const std::optional<double>& si, Dimension dimension) const;
    [[nodiscard]] std::string length(double si) const { return of(si, Dimension::length); }
    [[nodiscard]] std::string mass(double si) const { return of(si, Dimension::mass); }
    [[nodiscard]] std::string torque(double si) const { return of(si, Dimension::torque); }
    [[nodiscard]] std::string force(double si) const { return of(si, Dimension::force); }
    [[nodiscard]] std::string stress(double si) const { return of(si, Dimension::pressure); }
    [[nodiscard]] std::string speed(double si) const { return of(si, Dimension::angular_speed); }
    [[nodiscard]] std::string density(double si) const { return of(si, Dimension::density); }
    /// Litres or quarts. Volumes are no quantity that load files know.
    [[nodiscard]] std::string volume(double m3) const;
    /// kg m or lb in, likewise.
    [[nodiscard]] std::string unbalance(double kg_m) const;

    /// What a share of 1 is told as, in per cent; as of().
    [[nodiscard]] static std::string share(double of_one) { return share_text(of_one); }
    [[nodiscard]] static std::string share(const std::optional<double>& of_one);

    /// Of a chart's axis: mm or in, N m or lbf in, kg or lb; none for numbers. \pre one of these dimensions
    [[nodiscard]] AxisUnit axis(Dimension dimension) const;

    /// A round arm to hold a weight at, so that an unbalance can be pictured.
    [[nodiscard]] double picture_arm_m() const { return metric() ? 0.1 : 4 * 0.0254; }
    /// No roast is known to a millionth of a metre, a kilogram or a newton metre: what is smaller is
    /// rounding, and 0.
    [[nodiscard]] static double sensible(double si);
    [[nodiscard]] bool metric() const { return system_ == UnitSystem::metric; }

  private:
    UnitSystem system_;
};

}  // namespace evenspit
