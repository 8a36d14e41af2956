// SPDX-License-Identifier: MIT
#include "roast/lethality.h"

#include <array>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "units/quantity.h"

namespace evenspit {
namespace {

double kelvin(double fahrenheit) {
    return parse_quantity(std::to_string(fahrenheit) + " degF", Dimension::temperature);
}

// USDA FSIS, Revised Appendix A (2021): times for 7 logs, s; 12 % fat for birds.
struct Row {
    double fahrenheit, turkey_s, chicken_s, meat_s;
};
constexpr std::array published{
    Row{136, 70.8 * 60, 81.4 * 60, 32 * 60},
    Row{140, 33.7 * 60, 35 * 60, 12 * 60},
    Row{145, 13.8 * 60, 13 * 60, 4 * 60},
    Row{150, 4.9 * 60, 4.2 * 60, 72},
    Row{155, 1.3 * 60, 54.4, 23},
    Row{160, 26.9, 16.9, 0},
    Row{162, 17.7, 10.5, 0},
    Row{164, 11.7, 0, 0},
};

void expect_seven_logs(SalmonellaIn in, const Row& row, double seconds) {
    if (!(seconds > 0)) return;
    SalmonellaLogs logs(in);
    logs.add(kelvin(row.fahrenheit), kelvin(row.fahrenheit), seconds);
    EXPECT_NEAR(logs.logs(), 7, 1e-9) << row.fahrenheit << " °F";
}

TEST(SalmonellaLogs, AreSevenAfterEveryPublishedHoldTime) {
    for (const Row& row : published) {
        expect_seven_logs(SalmonellaIn::turkey, row, row.turkey_s);
        expect_seven_logs(SalmonellaIn::chicken, row, row.chicken_s);
        expect_seven_logs(SalmonellaIn::meat, row, row.meat_s);
        // Other birds: the longer of the two.
        expect_seven_logs(SalmonellaIn::any_bird, row, std::max(row.turkey_s, row.chicken_s));
    }
    expect_seven_logs(SalmonellaIn::meat, {130, 0, 0, 121 * 60}, 121 * 60);
}

// The table says that no time is needed there. The line through its rows says how fast it would go on.
TEST(DecimalReduction, GoesOnPastTheRowWhereTheTableEnds) {
    EXPECT_NEAR(7 * decimal_reduction_s(SalmonellaIn::turkey, kelvin(165)), 9.5, 0.5);
    EXPECT_LT(7 * decimal_reduction_s(SalmonellaIn::chicken, kelvin(165)), 10.5);
    EXPECT_LT(7 * decimal_reduction_s(SalmonellaIn::meat, kelvin(158)), 23);
}

// Tenfold per 6.1 °C for turkey, 5.5 °C for chicken and 5.6 °C for meat, computed from columns for lean
// flesh.
TEST(DecimalReduction, FallsAsFastAsTheTablesTell) {
    const auto tenfold_k = [](SalmonellaIn in, double from_f, double to_f) {
        const double tens =
            std::log10(decimal_reduction_s(in, kelvin(from_f)) / decimal_reduction_s(in, kelvin(to_f)));
        return (to_f - from_f) / 1.8 / tens;
    };
    EXPECT_NEAR(tenfold_k(SalmonellaIn::turkey, 136, 164), 6.1, 0.3);
    EXPECT_NEAR(tenfold_k(SalmonellaIn::chicken, 136, 162), 5.5, 0.3);
    EXPECT_NEAR(tenfold_k(SalmonellaIn::meat, 136, 155), 5.6, 0.6);
}

TEST(SalmonellaLogs, DoNotCountBelow130Fahrenheit) {
    SalmonellaLogs logs(SalmonellaIn::turkey);
    logs.add(kelvin(40), kelvin(129), 4 * 3600);
    logs.add(kelvin(129.9), kelvin(129.9), 1e6);
    EXPECT_EQ(logs.logs(), 0);
}

// A rise cut into small steps at their middles, which needs no integral.
TEST(SalmonellaLogs, OfARiseAreThoseOfManySmallSteps) {
    for (const SalmonellaIn in :
         {SalmonellaIn::turkey, SalmonellaIn::chicken, SalmonellaIn::any_bird, SalmonellaIn::meat}) {
        const double from = kelvin(120), to = kelvin(168), seconds = 2400;
        SalmonellaLogs once(in), back(in), in_two(in);
        once.add(from, to, seconds);
        back.add(to, from, seconds);
        in_two.add(from, kelvin(144), seconds / 2);
        in_two.add(kelvin(144), to, seconds / 2);
        double small = 0;
        constexpr int steps = 20000;
        for (int n = 0; n < steps; ++n) {
            const double at = from + (to - from) * (n + 0.5) / steps;
            if (at >= kelvin(130)) small += seconds / steps / decimal_reduction_s(in, at);
        }
        EXPECT_NEAR(once.logs(), small, 1e-4 * small);
        EXPECT_NEAR(back.logs(), once.logs(), 1e-9 * small);
        EXPECT_NEAR(in_two.logs(), once.logs(), 1e-9 * small);
    }
}

TEST(SalmonellaLogs, OfAHistoryAddUp) {
    const std::vector<double> times{0, 600, 900, 1500}, k{kelvin(100), kelvin(150), kelvin(150), kelvin(140)};
    SalmonellaLogs logs(SalmonellaIn::meat);
    logs.add(k[0], k[1], 600);
    logs.add(k[1], k[2], 300);
    logs.add(k[2], k[3], 600);
    EXPECT_GT(logs.logs(), 7 * 300 / 72.0);
    EXPECT_DOUBLE_EQ(salmonella_logs(SalmonellaIn::meat, times, k), logs.logs());
}

TEST(SalmonellaIn, TakesWhatIsNotKnownAsTheSlower) {
    body::Body body;
    body.meat = body::Meat::poultry;
    for (const auto& [name, in] : {std::pair{"turkey", SalmonellaIn::turkey},
                                   {"chicken", SalmonellaIn::chicken},
                                   {"goose", SalmonellaIn::any_bird}}) {
        body.shape = name;
        EXPECT_EQ(salmonella_in(body), in) << name;
    }
    body.shape = "leg of lamb";
    body.meat = body::Meat::lamb;
    EXPECT_EQ(salmonella_in(body), SalmonellaIn::meat);
    body.meat = body::Meat::unknown;
    EXPECT_EQ(salmonella_in(body), SalmonellaIn::any_bird);
    SalmonellaLogs bird(true), any(SalmonellaIn::any_bird), other(false), meat(SalmonellaIn::meat);
    for (SalmonellaLogs* logs : {&bird, &any, &other, &meat}) logs->add(kelvin(150), kelvin(155), 60);
    EXPECT_EQ(bird.logs(), any.logs());
    EXPECT_EQ(other.logs(), meat.logs());
    EXPECT_LT(bird.logs(), meat.logs());
}

}  // namespace
}  // namespace evenspit
