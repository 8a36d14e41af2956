// SPDX-License-Identifier: MIT
#include <string>
#include <vector>

#include "report/json_writer.h"
#include "report/scan_report.h"

namespace evenspit {

namespace {

std::string axes_from(scan::AxesFrom from) {
    switch (from) {
        case scan::AxesFrom::bird:
            return "bird";
        case scan::AxesFrom::principal_axes:
            return "principal axes";
        case scan::AxesFrom::user:
            return "user";
        case scan::AxesFrom::file:
            return "file";
    }
    return "";
}

Json sentences(const std::vector<scan::ScanNote>& notes) {
    Json all = Json::array();
    for (const scan::ScanNote& note : notes) all.push_back(scan::words_of(note));
    return all;
}

Json pass_json(const scan::ScanPassReport& pass) {
    Json one;
    one["file"] = pass.file;
    one["points"] = pass.points;
    one["triangles"] = pass.triangles;
    one["sampled"] = pass.sampled;
    one["not_finite"] = pass.not_finite;
    one["kept"] = pass.kept;
    one["on_board"] = pass.on_board;
    one["clutter"] = pass.clutter;
    one["clutter_pieces"] = pass.clutter_pieces;
    one["strays"] = pass.strays;
    one["noise_m"] = pass.noise_m;
    one["spacing_m"] = pass.spacing_m;
    if (const auto& beside = pass.beside) {
        one["beside"] = {{"thing", scan::name_of(beside->thing.kind)},
                         {"size_m", beside->thing.size_m},
                         {"metres_per_unit", beside->metres_per_unit},
                         {"sigma", beside->sigma},
                         {"points", beside->points}};
    }
    one["board"] = pass.board;
    if (pass.board) {
        one["board_tilt_deg"] = pass.board_tilt_deg;
        one["board_warp_m"] = pass.board_warp_m;
    }
    if (!pass.underside.empty()) {
        one["underside"] = pass.underside;
        one["underside_area_m2"] = pass.underside_area_m2;
        one["underside_guess_error_m"] = pass.guess_error_m;
    }
    return one;
}

}  // namespace

std::string scan_report_json(const scan::ScanReport& report) {
    Json json;
    for (const scan::ScanPassReport& pass : report.passes) json["passes"].push_back(pass_json(pass));
    json["metres_per_unit"] = report.metres_per_unit;
    if (report.scale_sigma) json["scale_sigma"] = *report.scale_sigma;
    if (report.registration) {
        json["registration"] = {{"error_m", report.registration->error_m},
                                {"overlap", report.registration->overlap},
                                {"agreement", report.registration->agreement}};
    }
    json["bird"] = report.bird;
    if (report.bird) json["like"] = report.kind;
    json["volume_m3"] = report.volume_m3;
    json["volume_sigma_m3"] = report.volume_sigma_m3;
    json["volume_by_chords_m3"] = report.volume_by_chords_m3;
    json["centre_m"] = {report.centre_m.x(), report.centre_m.y(), report.centre_m.z()};
    if (const auto& c = report.centre_covariance_m2) {
        json["centre_sigma_m"] = report.centre_sigma_m;
        for (Eigen::Index k = 0; k < 3; ++k)
            json["centre_covariance_m2"].push_back({(*c)(k, 0), (*c)(k, 1), (*c)(k, 2)});
    }
    json["area_m2"] = report.area_m2;
    json["size_m"] = {report.size_m.x(), report.size_m.y(), report.size_m.z()};
    json["triangles"] = report.triangles;
    json["closed"] = report.closed;
    json["self_intersections"] = report.self_intersections;
    json["pieces_dropped"] = report.pieces_dropped;
    json["holes"] = report.holes;
    json["unseen_share"] = report.unseen_share;
    json["offset_before_m"] = report.offset_before_m;
    json["offset_after_m"] = report.offset_after_m;
    json["distance_mean_m"] = report.distance_mean_m;
    json["distance_p95_m"] = report.distance_p95_m;
    json["distance_max_m"] = report.distance_max_m;
    json["axes_from"] = axes_from(report.axes_from);
    if (report.axis_confidence > 0) json["axis_confidence"] = report.axis_confidence;
    if (report.bird_error_m > 0) json["bird_error_m"] = report.bird_error_m;
    if (report.mass_kg) json["mass_kg"] = *report.mass_kg;
    if (report.density_kg_m3) json["density_kg_m3"] = *report.density_kg_m3;
    if (report.cavity_m3) {
        json["cavity_m3"] = *report.cavity_m3;
        json["cavity_from"] = report.cavity_from_mass ? "weight" : "anatomy";
    }
    json["remarks"] = sentences(report.remarks);
    json["advice"] = sentences(report.advice);
    return json_text(json);
}

}  // namespace evenspit
