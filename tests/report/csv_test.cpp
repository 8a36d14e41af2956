// SPDX-License-Identifier: MIT
#include <limits>
#include <map>
#include <sstream>
#include <string>

#include <gtest/gtest.h>

#include "report/report.h"
#include "report/sample_result.h"

namespace evenspit {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

TEST(CsvReport, OneTableACurveEachUnderItsHeader) {
    Analysis analysis;
    analysis.balance.curve = {{0, 0.25}, {1, -0.1}};
    analysis.rod.sag = {{0.02, 0}, {0.3, 0.0015}};
    analysis.rod.moment = {{0.3, 4.5}};
    analysis.clearance.profile = {{0.2, 0.03}};
    EXPECT_EQ(csv_report(analysis),
              "curve,turn_deg,motor_torque_n_m\n"
              "torque,0,0.25\n"
              "torque,1,-0.1\n"
              "curve,station_m,sag_m\n"
              "sag,0.02,0\n"
              "sag,0.3,0.0015\n"
              "curve,station_m,bending_moment_n_m\n"
              "moment,0.3,4.5\n"
              "curve,station_m,swept_radius_m\n"
              "radius,0.2,0.03\n");
}

TEST(CsvReport, EveryRowHasThreeCellsAndReadsBackExactly) {
    const Analysis analysis = test::sample_analysis();
    std::istringstream lines(csv_report(analysis));
    std::map<std::string, std::size_t> counts;
    std::string line;
    while (std::getline(lines, line)) {
        const std::size_t first = line.find(',');
        const std::size_t second = line.find(',', first + 1);
        ASSERT_NE(second, std::string::npos) << line;
        EXPECT_EQ(line.find(',', second + 1), std::string::npos) << line;
        const std::string name = line.substr(0, first);
        const std::size_t row = counts[name]++;
        if (name == "torque") {
            EXPECT_EQ(std::stod(line.substr(first + 1)), analysis.balance.curve[row][0]);
            EXPECT_EQ(std::stod(line.substr(second + 1)), analysis.balance.curve[row][1]);
        }
    }
    EXPECT_EQ(counts, (std::map<std::string, std::size_t>{
                          {"curve", 4}, {"torque", 360}, {"sag", 3}, {"moment", 3}, {"radius", 3}}));
}

TEST(CsvReport, PointsThatCouldNotBeComputedAreLeftOut) {
    Analysis analysis;
    analysis.rod.sag = {{0.1, nan}, {nan, 0.1}, {0.2, 0.001}};
    const std::string text = csv_report(analysis);
    EXPECT_EQ(text.find("nan"), std::string::npos);
    EXPECT_NE(text.find("sag,0.2,0.001\n"), std::string::npos);
    EXPECT_EQ(text.find("sag,0.1"), std::string::npos);
}

}  // namespace
}  // namespace evenspit
