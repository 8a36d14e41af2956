// SPDX-License-Identifier: MIT
#include "body/grown_body.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <functional>
#include <utility>

#include "body/likely_measure.h"
#include "body/refuse.h"
#include "geometry/disjoint_sets.h"
#include "units/metric.h"
#include "units/parallel.h"

namespace evenspit::body {
namespace {

// Bread stuffing as spooned in, and pressed as tight as it goes; giblets are meat. From memory.
constexpr double stuffing_loose = 750;
constexpr double stuffing_pressed = 1000;
constexpr double giblets_density = 1050;

// The piece with the most triangles. At a thin rim the mesher may leave crumbs beside the body.
TriangleMesh largest_piece(const TriangleMesh& mesh) {
    DisjointSets pieces(mesh.vertices.size());
    for (const Triangle& t : mesh.triangles) {
        pieces.join(t[1], t[0]);
        pieces.join(t[2], t[0]);
    }
    std::vector<std::size_t> size(mesh.vertices.size(), 0);
    for (const Triangle& t : mesh.triangles) ++size[static_cast<std::size_t>(pieces.root(t[0]))];
    const auto largest = static_cast<std::int32_t>(std::max_element(size.begin(), size.end()) - size.begin());

    TriangleMesh piece;
    std::vector<std::int32_t> moved(mesh.vertices.size(), -1);
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
        if (pieces.root(static_cast<std::int32_t>(v)) != largest) continue;
        moved[v] = static_cast<std::int32_t>(piece.vertices.size());
        piece.vertices.push_back(mesh.vertices[v]);
    }
    for (const Triangle& t : mesh.triangles) {
        if (pieces.root(t[0]) != largest) continue;
        const auto at = [&](std::size_t k) { return moved[static_cast<std::size_t>(t[k])]; };
        piece.triangles.push_back({at(0), at(1), at(2)});
    }
    return piece;
}

// A region's flesh, counted.
struct Pile {
    double volume = 0;
    Vec3 first = Vec3::Zero();
    Mat3 second = Mat3::Zero();  // about the origin
    void add(double amount, const Vec3& p) {
        volume += amount;
        first += amount * p;
        second += amount * p * p.transpose();
    }
};

// What a region fills of one lattice cell, as a share of it.
struct Filled {
    std::size_t region = 0;
    double amount = 0;
    Vec3 at = Vec3::Zero();
};

// Adds what is filled of the cells `from` to before `to` of a row along y.
void fill_row(std::vector<Filled>& found, const BodyModel& model, double cell, const Vec2& x_z,
              std::pair<int, int> from_to) {
    for (int j = from_to.first; j < from_to.second; ++j) {
        const Vec3 p(x_z.x(), (j + 0.5) * cell, x_z.y());
        const double depth = -model.flesh(p);
        if (depth <= -0.5 * cell) {
            // No surface nearer than that: the field never grows faster than 4 per length
            // (MesherOptions::steepest).
            j += std::max(0, static_cast<int>((-depth / 4 - cell) / cell));
            continue;
        }
        double before = 0;
        const RegionLayers layers = model.layers(p, -0.5 * cell);
        for (const RegionLayers::Layer& layer : layers.all()) {
            const double filled = std::clamp(0.5 - layer.field / cell, 0.0, 1.0);
            found.push_back({layer.region, filled - before, p});
            before = filled;
        }
    }
}

// The cells at one station.
std::vector<Filled> filled_at(const BodyModel& model, double x, double cell) {
    std::vector<Filled> found, half;
    // Cells stand in pairs about y = 0.
    const double half_width = std::max(std::abs(model.box.min().y()), std::abs(model.box.max().y()));
    const int ny = static_cast<int>(std::ceil(half_width / cell));
    for (double z = model.box.min().z(); z < model.box.max().z(); z += cell) {
        if (model.mirrored_regions.empty()) {
            fill_row(found, model, cell, {x, z}, {-ny, ny});
            continue;
        }
        // In the order in which the whole row comes: sums keep their last bits.
        half.clear();
        fill_row(half, model, cell, {x, z}, {0, ny});
        for (auto last = half.rbegin(); last != half.rend();) {
            const auto of_another_cell = [&](const Filled& part) { return part.at.y() != last->at.y(); };
            const auto end = std::find_if(last, half.rend(), of_another_cell);
            for (auto part = end; part != last;) {
                --part;
                found.push_back({model.mirrored_regions[part->region], part->amount,
                                 Vec3(part->at.x(), -part->at.y(), part->at.z())});
            }
            last = end;
        }
        found.insert(found.end(), half.begin(), half.end());
    }
    return found;
}

// Counts lattice cells by region, those on the surface in part.
std::vector<Pile> pile_up(const BodyModel& model, double cell) {
    std::vector<double> stations;
    for (double x = model.box.min().x(); x < model.box.max().x(); x += cell) stations.push_back(x);
    std::vector<std::vector<Filled>> slices(stations.size());
    parallel_for(
        stations.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t s = first; s < last; ++s) slices[s] = filled_at(model, stations[s], cell);
        },
        1);
    // Added up in one order, however many threads counted.
    std::vector<Pile> piles(model.region_table.size());
    for (const std::vector<Filled>& slice : slices) {
        for (const Filled& part : slice) piles[part.region].add(part.amount, part.at);
    }
    return piles;
}

Moments moments_of(const Pile& pile) {
    const Vec3 centre = pile.first / pile.volume;
    return {pile.volume, centre, pile.second - pile.volume * centre * centre.transpose()};
}

// Shares the flesh out among the regions and makes its density the mean of theirs.
void share_out(Body& body, const BodyModel& model, double flesh_volume, double cell) {
    const std::vector<Pile> piles = pile_up(model, cell);
    double counted = 0;
    for (const Pile& pile : piles) counted += pile.volume;
    double flesh_kg = 0, net_volume = 0;
    for (std::size_t i = 0; i < piles.size(); ++i) {
        if (!(piles[i].volume > 0)) continue;
        Moments flesh = flesh_volume / counted * moments_of(piles[i]), bones;
        for (const Bone& bone : model.bones) {
            if (bone.region == i) bones = bones + volume_moments(bone.mesh);
        }
        flesh = flesh + -1.0 * bones;
        const Tissues tissues = tissues_of(model.matter.at(i), flesh.amount, bone_density * bones.amount);
        const double density = tissues.flesh_kg() / flesh.amount;
        const Moments mass = density * flesh + bone_density * bones;
        body.shares.push_back({model.region_table[i], mass.amount, mass.centre, tissues});
        body.flesh_by_region.push_back({model.region_table[i], density, flesh});
        flesh_kg += tissues.flesh_kg();
        net_volume += flesh.amount;
    }
    body.parts.front().density_kg_m3 = flesh_kg / net_volume;
}

using Place = std::function<Vec3(const Vec3&)>;

// A mass in the cavity from one share of its length to another; as broad as it must be at its natural
// density, denser if there is not room for that.
Part contents(const BodyModel& model, const Place& place, double from, double to, double mass_kg,
              double density) {
    constexpr double fullest = 0.995;  // stays off the wall
    const auto piece = [&](double across) {
        TriangleMesh mesh = model.cavity_piece(from, to, across);
        for (Vec3& v : mesh.vertices) v = place(v);
        return mesh;
    };
    const double room = volume_moments(piece(fullest)).amount;
    const double across = fullest * std::sqrt(std::min(1.0, mass_kg / (room * density)));
    Part part{.kind = PartKind::stuffing, .mesh = piece(across)};
    part.density_kg_m3 = mass_kg / volume_moments(part.mesh).amount;
    return part;
}

void require_stuffing_density(double kg_m3) {
    if (kg_m3 >= least_stuffing_density && kg_m3 <= greatest_stuffing_density) return;
    refuse("stuffing_density", metric(kg_m3, Dimension::density),
           "stuffing of " + metric(least_stuffing_density, Dimension::density) + " to " +
               metric(greatest_stuffing_density, Dimension::density),
           "weigh a cup of it: 240 ml at " + metric(stuffing_loose, Dimension::density) + " weigh " +
               kilograms(stuffing_loose * 0.24e-3));
}

void fill_cavity(Body& body, const BodyModel& model, const Growth& growth, const Place& place) {
    if (!(growth.stuffing_kg > 0) && !(growth.giblets_kg > 0)) return;
    if (!model.cavity_piece) {
        refuse(growth.stuffing_kg > 0 ? "stuffing" : "giblets",
               kilograms(growth.stuffing_kg + growth.giblets_kg),
               "nothing: a " + model.name + " has no cavity", "leave it out");
    }
    const int cavity = static_cast<int>(body.parts.size()) - 1;
    const auto add = [&](Part part, const char* name, const char* key, double mass_kg, double densest) {
        if (!(part.density_kg_m3 <= densest * (1 + 1e-9))) {
            refuse(
                key, kilograms(mass_kg),
                "at most " + kilograms(mass_kg * densest / part.density_kg_m3) + ", which fills the cavity",
                "leave out what does not fit");
        }
        part.name = name;
        part.parent = cavity;
        body.parts.push_back(std::move(part));
    };
    // Both openings are left free.
    double far_end = 0.99;
    if (growth.giblets_kg > 0) {
        constexpr double where = 0.55;
        add(contents(model, place, where, far_end, growth.giblets_kg, giblets_density), "giblets", "giblets",
            growth.giblets_kg, giblets_density);
        far_end = where - 0.01;
        body.remarks.emplace_back(
            "giblets left in: they shift in the cavity as the body turns, but count as at rest");
    }
    if (growth.stuffing_kg > 0) {
        add(contents(model, place, 0.01, far_end, growth.stuffing_kg,
                     growth.stuffing_density_kg_m3.value_or(stuffing_loose)),
            "stuffing", "stuffing", growth.stuffing_kg,
            growth.stuffing_density_kg_m3.value_or(stuffing_pressed));
    }
}

// Enlargement along each axis that gives the sizes asked for; what is free takes the rest of the natural
// volume.
Vec3 stretch(const Vec3& model_size, double natural, const Growth& growth, const std::string& name) {
    struct Measure {
        const char* key;
        const std::optional<double>& wanted;
    };
    const std::array<Measure, 3> measures{
        {{"length", growth.size.length}, {"width", growth.size.width}, {"depth", growth.size.depth}}};
    Vec3 factor = Vec3::Constant(natural);
    double taken = 1;
    int free = 3;
    for (std::size_t k = 0; k < 3; ++k) {
        if (!measures[k].wanted) continue;
        const auto axis = static_cast<Eigen::Index>(k);
        const double usual = natural * model_size[axis], wanted = *measures[k].wanted;
        require_likely_measure(measures[k].key, wanted, usual, furthest_joint_measure, name, growth.mass_kg);
        factor[axis] = wanted / model_size[axis];
        taken *= factor[axis] / natural;
        --free;
    }
    if (free == 0) {
        constexpr double loosest = 1.2;  // air between muscles, or an uneven tape
        if (taken > loosest || taken < 1 / loosest) {
            refuse("length", metric_length(*growth.size.length),
                   "about " + metric_length(factor.x() * model_size.x() / taken) +
                       " with this width and depth for a " + name + " of " + kilograms(growth.mass_kg),
                   "check the tape and the scale");
        }
        return factor;
    }
    for (std::size_t k = 0; k < 3; ++k) {
        if (!measures[k].wanted)
            factor[static_cast<Eigen::Index>(k)] = natural * std::pow(taken, -1.0 / free);
    }
    return factor;
}

}  // namespace

Body grown_body(const BodyModel& model, const Growth& growth) {
    if (growth.stuffing_density_kg_m3) require_stuffing_density(*growth.stuffing_density_kg_m3);
    Body body;
    body.name = body.shape = model.name;
    body.region_table = model.region_table;
    body.swung = model.swung;
    body.if_undone = model.if_undone;

    Part flesh{.name = "flesh", .kind = PartKind::flesh};
    flesh.mesh = largest_piece(mesh_field(
        model.flesh,
        {.box = model.box, .spacing = growth.spacing_m, .is_even = !model.mirrored_regions.empty()}));
    flesh.regions.resize(flesh.mesh.triangles.size());
    parallel_for(flesh.regions.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t n = first; n < last; ++n) {
            const Triangle& t = flesh.mesh.triangles[n];
            flesh.regions[n] = model.region_on_surface(
                (flesh.mesh.corner(t, 0) + flesh.mesh.corner(t, 1) + flesh.mesh.corner(t, 2)) / 3);
        }
    });
    double flesh_volume = volume_moments(flesh.mesh).amount;
    const Vec3 natural_size = bounds(flesh.mesh).sizes();
    const Vec3 origin = model.origin.value_or(bounds(flesh.mesh).center());
    body.parts.push_back(std::move(flesh));
    for (const Bone& bone : model.bones) {
        body.parts.push_back({.name = bone.name,
                              .kind = PartKind::bone,
                              .mesh = bone.mesh,
                              .density_kg_m3 = bone_density,
                              .parent = 0});
    }
    if (model.cavity_piece) {
        body.parts.push_back({.name = "cavity",
                              .kind = PartKind::cavity,
                              .mesh = model.cavity_piece(0, 1, 1),
                              .parent = model.cavity_is_closed ? 0 : -1});
        if (model.cavity_is_closed) flesh_volume -= volume_moments(body.parts.back().mesh).amount;
    }
    share_out(body, model, flesh_volume, 0.8 * growth.spacing_m);

    const double natural = std::cbrt(growth.mass_kg / mass_moments(body).amount);
    const Vec3 factor =
        growth.factor ? Vec3::Constant(*growth.factor) : stretch(natural_size, natural, growth, model.name);
    const Place place = [&](const Vec3& p) -> Vec3 { return factor.cwiseProduct(p - origin); };
    for (Part& part : body.parts) {
        for (Vec3& v : part.mesh.vertices) v = place(v);
    }
    for (std::vector<SwungLimb>* limbs : {&body.swung, &body.if_undone}) {
        for (SwungLimb& limb : *limbs) {
            for (Vec3& v : limb.mesh.vertices) v = place(v);
        }
    }
    double counted = 0;
    for (const PartShare& share : body.shares) counted += share.mass_kg;
    for (PartShare& share : body.shares) {
        share.tissues = growth.mass_kg / counted * share.tissues;
        share.mass_kg *= growth.mass_kg / counted;
        share.centre_m = place(share.centre_m);
    }
    for (RegionFlesh& region : body.flesh_by_region) {
        region.volume = {factor.prod() * region.volume.amount, place(region.volume.centre),
                         factor.prod() * factor.asDiagonal() * region.volume.second * factor.asDiagonal()};
    }
    body = with_scale_weight(std::move(body), growth.mass_kg);
    fill_cavity(body, model, growth, place);
    return body;
}

}  // namespace evenspit::body
