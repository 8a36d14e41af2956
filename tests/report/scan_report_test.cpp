// SPDX-License-Identifier: MIT
#include "report/scan_report.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

namespace evenspit {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

scan::ScanReport sample() {
    scan::ScanReport report;
    scan::ScanPassReport pass;
    pass.file = "bird.ply";
    pass.points = 1000;
    pass.kept = 600;
    pass.on_board = 300;
    pass.clutter = 90;
    pass.strays = 10;
    pass.clutter_pieces = 2;
    pass.board = true;
    pass.board_warp_m = 0.003;
    pass.noise_m = 0.002;
    pass.spacing_m = 0.001;
    pass.underside = "bird";
    pass.underside_area_m2 = 0.04;
    pass.guess_error_m = 0.002;
    report.passes.push_back(pass);
    report.volume_m3 = 0.0055;
    report.volume_sigma_m3 = 0.00008;
    report.volume_by_chords_m3 = 0.005501;
    report.centre_m = {0.012, 0, -0.003};
    report.centre_covariance_m2 = Vec3(1e-6, 0, 0.96e-6).asDiagonal();
    report.centre_sigma_m = 0.0014;
    report.area_m2 = 0.2;
    report.size_m = {0.42, 0.28, 0.19};
    report.triangles = 40000;
    report.closed = true;
    report.holes = 3;
    report.unseen_share = 0.22;
    report.bird = true;
    report.kind = "turkey";
    report.axes_from = scan::AxesFrom::bird;
    report.axis_confidence = 0.93;
    report.bird_error_m = 0.0021;
    report.mass_kg = 5.5;
    report.density_kg_m3 = 1000;
    report.cavity_m3 = 0.0004;
    report.cavity_from_mass = true;
    report.distance_mean_m = 0.0011;
    report.distance_p95_m = 0.003;
    report.distance_max_m = 0.009;
    report.remarks = {scan::note::CameClosed{}};
    report.advice = {scan::note::PointsSparse{0.006}};
    return report;
}

TEST(ScanReportText, TellsAll) {
    const std::string text = scan_report_text(sample(), UnitSystem::metric);
    for (const char* piece : {"bird.ply",
                              "1000 read, 600 kept",
                              "300 board",
                              "90 clutter in 2 pieces",
                              "10 strays",
                              "3 mm",
                              "like a turkey",
                              "5500 ± 80 cm3",
                              "5501",
                              "12 mm, 0 mm, -3 mm; ± 1.4 mm",
                              "1000 kg/m³",
                              "5.5 kg",
                              "400 cm3",
                              "closed",
                              "0 self-intersections",
                              "22 %",
                              "in 3 places",
                              "p95 3 mm",
                              "confidence 0.93",
                              "note: The scan was closed already",
                              "better: The points are 6 mm apart: scan finer."})
        EXPECT_THAT(text, HasSubstr(piece));
    EXPECT_THAT(text, Not(HasSubstr("scans together")));
}

TEST(ScanReport, TellsWhatGaveTheScale) {
    scan::ScanReport report = sample();
    EXPECT_THAT(scan_report_text(report, UnitSystem::metric), Not(HasSubstr("scale ")));
    report.passes[0].beside = {{scan::BesideThing::Kind::can, 0.073}, 0.0101, 0.004, 812};
    report.scale_sigma = 0.0035;
    const std::string text = scan_report_text(report, UnitSystem::metric);
    EXPECT_THAT(text, HasSubstr("from a can 73 mm across, seen in 812 points: ± 0.4 %"));
    EXPECT_THAT(text, HasSubstr("± 0.4 %, which the ± below count in"));
    EXPECT_THAT(scan_report_text(report, UnitSystem::us), HasSubstr("from a can 2.87 in across"));
    const auto json = nlohmann::json::parse(scan_report_json(report));
    EXPECT_EQ(json["scale_sigma"], 0.0035);
    EXPECT_EQ(json["passes"][0]["beside"]["thing"], "can");
    EXPECT_EQ(json["passes"][0]["beside"]["size_m"], 0.073);
    EXPECT_EQ(json["passes"][0]["beside"]["metres_per_unit"], 0.0101);
}

TEST(ScanReportText, OfMeshesAndWithoutMinusZero) {
    scan::ScanReport report = sample();
    report.passes[0].triangles = 2000;
    report.passes[0].sampled = 900;
    report.offset_after_m = -1e-7;
    report.holes = 1;
    report.axes_from = scan::AxesFrom::user;
    const std::string text = scan_report_text(report, UnitSystem::metric);
    for (const char* piece :
         {"1000 and 2000 triangles read, sampled at 900", ", 0 mm left", "in 1 place\n", "as named"})
        EXPECT_THAT(text, HasSubstr(piece));
    EXPECT_THAT(text, Not(HasSubstr("-0")));
    report.axes_from = scan::AxesFrom::file;
    EXPECT_THAT(scan_report_text(report, UnitSystem::metric), HasSubstr("the file's own\n"));
}

TEST(ScanReportText, InTheUsersUnits) {
    const std::string text = scan_report_text(sample(), UnitSystem::us);
    for (const char* piece : {"12 lb", "336 ± 5 in3 (by chords 336)", "; ± 1/16 in", "closed (bird), 62 in2",
                              "p95 1/8 in", "24 in3, from the weight"})
        EXPECT_THAT(text, HasSubstr(piece));
    for (const char* piece : {" mm", " cm", "kg/m"}) EXPECT_THAT(text, Not(HasSubstr(piece)));
}

TEST(ScanReportText, WhatIsARoundingFromZeroIsZero) {
    scan::ScanReport report = sample();
    report.centre_m = {-7.7e-18, 4e-6, -0.000052};
    report.passes[0].strays = 1;
    report.passes[0].clutter_pieces = 1;
    const std::string text = scan_report_text(report, UnitSystem::metric);
    EXPECT_THAT(text, HasSubstr("centre of volume      0 mm, 0 mm, 0 mm; ± 1.4 mm\n"));
    EXPECT_THAT(text, HasSubstr("90 clutter in 1 piece, 1 stray)"));
}

TEST(ScanReportText, TellsWhatIsNotThere) {
    scan::ScanReport report = sample();
    report.passes[0].board = false;
    report.passes[0].underside.clear();
    report.bird = false;
    report.axes_from = scan::AxesFrom::principal_axes;
    report.mass_kg.reset();
    report.density_kg_m3.reset();
    report.cavity_m3.reset();
    report.registration = scan::RegistrationReport{0.0012, 0.4, 0.99, 0.2};
    const std::string text = scan_report_text(report, UnitSystem::metric);
    EXPECT_THAT(text, HasSubstr("none"));
    EXPECT_THAT(text, HasSubstr("no bird"));
    EXPECT_THAT(text, HasSubstr("1.2 mm"));
    for (const char* piece : {"kg/m", "cavity", "underside"}) EXPECT_THAT(text, Not(HasSubstr(piece)));
}

TEST(ScanReportJson, HoldsTheSameInSi) {
    const auto json = nlohmann::json::parse(scan_report_json(sample()));
    EXPECT_EQ(json["passes"][0]["points"], 1000);
    EXPECT_EQ(json["passes"][0]["underside"], "bird");
    EXPECT_DOUBLE_EQ(json["passes"][0]["underside_guess_error_m"], 0.002);
    EXPECT_DOUBLE_EQ(json["volume_m3"], 0.0055);
    EXPECT_DOUBLE_EQ(json["volume_sigma_m3"], 0.00008);
    EXPECT_DOUBLE_EQ(json["unseen_share"], 0.22);
    EXPECT_DOUBLE_EQ(json["centre_m"][2], -0.003);
    EXPECT_DOUBLE_EQ(json["centre_sigma_m"], 0.0014);
    EXPECT_EQ(json["centre_covariance_m2"],
              nlohmann::json({{1e-6, 0.0, 0.0}, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.96e-6}}));
    EXPECT_EQ(json["self_intersections"], 0);
    EXPECT_EQ(json["closed"], true);
    EXPECT_DOUBLE_EQ(json["axis_confidence"], 0.93);
    EXPECT_EQ(json["cavity_from"], "weight");
    EXPECT_EQ(json["like"], "turkey");
    EXPECT_FALSE(json.contains("registration"));
    EXPECT_EQ(json["advice"][0], "The points are 6 mm apart: scan finer.");
}

TEST(ScanReportJson, LeavesOutWhatDoesNotApply) {
    scan::ScanReport report = sample();
    report.bird = false;
    report.axis_confidence = 0;
    report.bird_error_m = 0;
    report.mass_kg.reset();
    report.density_kg_m3.reset();
    report.cavity_m3.reset();
    report.passes[0].board = false;
    report.passes[0].underside.clear();
    const auto json = nlohmann::json::parse(scan_report_json(report));
    for (const char* key :
         {"like", "axis_confidence", "bird_error_m", "mass_kg", "density_kg_m3", "cavity_m3", "cavity_from"})
        EXPECT_FALSE(json.contains(key)) << key;
    for (const char* key : {"board_tilt_deg", "board_warp_m", "underside"})
        EXPECT_FALSE(json["passes"][0].contains(key)) << key;
}

}  // namespace
}  // namespace evenspit
