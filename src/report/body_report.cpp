// SPDX-License-Identifier: MIT
#include "report/body_report.h"

#include <algorithm>

#include <fmt/format.h>

#include "body/measures.h"
#include "report/json_parts.h"
#include "report/page.h"
#include "report/reader_units.h"

namespace evenspit {
namespace {

struct Contents {
    std::string name;
    double mass_kg = 0;
};

std::vector<Contents> contents(const body::Body& body) {
    std::vector<Contents> list;
    for (const body::Part& part : body.parts) {
        if (part.kind != body::PartKind::stuffing) continue;
        list.push_back({part.name, part.density_kg_m3 * volume_moments(part.mesh).amount});
    }
    return list;
}

std::string place(const Vec3& p, const Units& units) {
    return fmt::format("{}, {}, {}", units.length(p.x()), units.length(p.y()), units.length(p.z()));
}

void add_parts(Page& page, const body::Body& body, const Units& units) {
    if (body.shares.empty()) return;
    page.heading("Parts, bone in");
    Table table({{"part"}, {"mass", true}, {"share", true}, {"centre of mass x, y, z", true}});
    double all = 0;
    for (const body::PartShare& share : body.shares) all += share.mass_kg;
    for (const body::PartShare& share : body.shares) {
        table.add_row({share.region.name, units.mass(share.mass_kg), Units::share(share.mass_kg / all),
                       place(share.centre_m, units)});
    }
    page.table(table);
}

Json vector_json(const Vec3& v) {
    return Json::array({v.x() + 0.0, v.y() + 0.0, v.z() + 0.0});
}

}  // namespace

std::string body_text(const body::Body& body, const TextOptions& options) {
    const Units units(options.units);
    const Moments mass = body::mass_moments(body);
    const body::BodyMeasures measures = body::measure_body(body);
    const double volume = body::matter_volume(body), cavity = body::cavity_volume(body);

    Page page(options);
    page.paragraph(fmt::format("{}, {}", printable(body.name), units.mass(mass.amount)));
    page.paragraph(body.pointed_ends_known
                       ? "x runs from vent to neck, z from back to breast, y to its right."
                       : "x runs along it, z up as it lies.");
    page.heading("Body");
    page.figure("mass", units.mass(mass.amount));
    for (const Contents& inside : contents(body))
        page.figure("", "of it " + inside.name + ' ' + units.mass(inside.mass_kg));
    page.figure("volume", fmt::format("{}, {}", units.volume(volume), units.density(mass.amount / volume)));
    page.figure("size", fmt::format("{} long, {} wide, {} deep", units.length(measures.size.x()),
                                    units.length(measures.size.y()), units.length(measures.size.z())));
    page.figure("girth", fmt::format("{}, most at x = {}", units.length(measures.girth_m),
                                     units.length(measures.girth_at_m)));
    page.figure("centre of mass", place(mass.centre, units));
    if (cavity > 0) page.figure("cavity", units.volume(cavity));
    add_parts(page, body, units);
    if (!body.remarks.empty()) {
        page.heading("Good to know");
        for (const std::string& remark : body.remarks) page.marked("-", Ink::plain, remark);
    }
    return page.text();
}

std::string body_json(const body::Body& body) {
    const Moments mass = body::mass_moments(body);
    const body::BodyMeasures measures = body::measure_body(body);
    const double volume = body::matter_volume(body), cavity = body::cavity_volume(body);
    const Mat3 inertia = mass.inertia();

    Json json;
    json["tool"] = tool_json();
    json["shape"] = body.name;
    json["mass_kg"] = mass.amount;
    json["volume_m3"] = volume;
    json["density_kg_m3"] = mass.amount / volume;
    json["size_m"] = vector_json(measures.size);
    json["girth_m"] = measures.girth_m;
    json["girth_at_m"] = measures.girth_at_m;
    json["centre_of_mass_m"] = vector_json(mass.centre);
    json["inertia_kg_m2"] = Json::array();
    for (Eigen::Index i = 0; i < 3; ++i)
        json["inertia_kg_m2"].push_back(vector_json(inertia.row(i).transpose()));
    if (cavity > 0) json["cavity_m3"] = cavity;
    json["contents"] = Json::array();
    for (const Contents& inside : contents(body)) {
        json["contents"].push_back({{"name", inside.name}, {"mass_kg", inside.mass_kg}});
    }
    json["parts"] = Json::array();
    for (const body::PartShare& share : body.shares) {
        json["parts"].push_back({{"name", share.region.name},
                                 {"mass_kg", share.mass_kg},
                                 {"centre_of_mass_m", vector_json(share.centre_m)}});
    }
    json["free"] = Json::array();
    for (const body::SwungLimb& limb : body.swung) json["free"].push_back(limb.name);
    json["remarks"] = body.remarks;
    return json_text(json);
}

}  // namespace evenspit
