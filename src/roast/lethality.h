// SPDX-License-Identifier: MIT
#pragma once

#include <span>

#include "body/body.h"

namespace evenspit {

/// Whose table of hold times counts. `any_bird`: at each temperature the longer of turkey and chicken, which
/// is what is told to take for other birds.
enum class SalmonellaIn { turkey, chicken, any_bird, meat };

/// The table for a body: turkey and chicken by the shape it was grown from. Flesh of
/// which nothing is known is taken as a bird's, the slower.
SalmonellaIn salmonella_in(const body::Body& body);

/// How long a food must stay at a temperature for seven decimal reductions of Salmonella.
struct HoldTime {
    double temperature_k = 0;
    double seconds = 0;
};

/// The published rows, coldest first; those that say 0 s are left out.
///
/// USDA FSIS, "Cooking Guideline for Meat and Poultry Products (Revised Appendix A)" (2021): the columns for
/// 12 % of fat, to be taken where fat is more or not known; of meat the column for 7 logs.
///
/// Published for moist cooking. The same paper names dry heat over an open pit and chicken on a rotisserie
/// among the ways of cooking for which the tables are not validated: dry surfaces protect what lives there,
/// and Salmonella that warms slowly gets used to heat. What comes of them is information. It never stands
/// for the temperature that a thermometer must show.
std::span<const HoldTime> hold_times(SalmonellaIn in);

/// The time for one decimal reduction, s: a seventh of the hold time, whose logarithm goes in a line from row
/// to row and on past the last ones with the slope there. So it goes past the row that says 0 s too: no
/// bacteria die in no time, the tables end there by fiat, and a turkey at 165 °F takes 9 s by its line.
double decimal_reduction_s(SalmonellaIn in, double temperature_k);

/// Decimal reductions of Salmonella that a place has had. Below 130 °F, the coldest row that is published,
/// nothing counts. \see hold_times() for what they are worth
class SalmonellaLogs {
  public:
    explicit SalmonellaLogs(SalmonellaIn in) : in_(in) {}
    /// Of a bird whose kind is not told, or of meat.
    explicit SalmonellaLogs(bool poultry)
        : SalmonellaLogs(poultry ? SalmonellaIn::any_bird : SalmonellaIn::meat) {}

    /// A time in which the temperature went from one to another in a line; exact. \pre seconds ≥ 0
    void add(double from_k, double to_k, double seconds);
    [[nodiscard]] double logs() const { return logs_; }

  private:
    SalmonellaIn in_;
    double logs_ = 0;
};

/// Of a temperature known at times, in a line between them. \pre as many temperatures as times, which rise
double salmonella_logs(SalmonellaIn in, std::span<const double> times_s,
                       std::span<const double> temperatures_k);

}  // namespace evenspit
