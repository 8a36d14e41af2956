// SPDX-License-Identifier: MIT
#include "body/bird.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "body/bird_shape.h"
#include "body/composition.h"
#include "body/mesher.h"
#include "units/error.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

constexpr double kRefrigerator = 4;  // °C

// Whole wet bone with its marrow: 1200 to 1400 kg/m3, from memory. (Mineral-rich bone alone: 1800.)
constexpr double kBoneDensity = 1300;

// Bread stuffing as spooned in, and pressed as tight as it goes: from memory.
constexpr double kStuffingLoose = 750;
constexpr double kStuffingPressed = 1000;

struct Species {
    std::string_view name;
    double least_kg, greatest_kg;
    double reference_kg;  // the weight for which the form holds as it stands
    std::string_view flesh;
    BirdForm form;
};

// Ranges of dressed weights: common practice, no source.
const std::vector<Species>& species_table() {
    static const std::vector<Species> table{
        {"turkey", 2.5, 20, 5.9, "05165", {}},
    };
    return table;
}

[[noreturn]] void refuse(std::string key, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.key = std::move(key);
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

std::string kilograms(double kg) {
    return format_quantity(kg, Dimension::mass, UnitSystem::metric);
}

const Species& find_species(const BirdOptions& options) {
    std::string names;
    for (const Species& species : species_table()) {
        if (species.name == options.species) {
            if (options.mass_kg >= species.least_kg && options.mass_kg <= species.greatest_kg) return species;
            refuse("mass", kilograms(options.mass_kg),
                   "a " + options.species + " of " + kilograms(species.least_kg) + " to " +
                       kilograms(species.greatest_kg),
                   "for anything else give a scan of it");
        }
        names += (names.empty() ? "" : ", ") + std::string(species.name);
    }
    refuse("shape", "'" + options.species + "'", "one of: " + names, "");
}

// Heavier birds of a species are deeper-fleshed and shorter-legged than a plain enlargement: breast depth
// grows faster and leg bones slower than the cube root of the weight (J. Agric. Sci. 93:1, 1979, 44 turkeys;
// the exponents are chosen small, from memory).
BirdForm grown(BirdForm form, double mass_ratio) {
    form.breast *= std::pow(mass_ratio, 0.03);
    form.leg_length *= std::pow(mass_ratio, -0.03);
    form.wing_length *= std::pow(mass_ratio, -0.03);
    form.keel *= std::pow(mass_ratio, -0.1);
    return form;
}

void move_and_scale(TriangleMesh& mesh, double origin_x, double factor) {
    for (Vec3& v : mesh.vertices) v = factor * (v - Vec3(origin_x, 0, 0));
}

// Σ over a mesh's region of the flesh's volume and first moment, by counting lattice cells, those on the
// surface in part.
struct Pile {
    double volume = 0;
    Vec3 first = Vec3::Zero();
};
std::array<Pile, kBirdRegions> pile_up(const BirdShape& shape, bool even) {
    std::array<Pile, kBirdRegions> piles{};
    const double h = 0.008;
    const Box3& box = shape.box();
    const int ny = static_cast<int>(std::ceil(box.max().y() / h));
    for (double x = box.min().x(); x < box.max().x(); x += h) {
        for (int j = even ? 0 : -ny; j < ny; ++j) {
            for (double z = box.min().z(); z < box.max().z(); z += h) {
                const Vec3 p(x, (j + 0.5) * h, z);
                const double part = std::clamp(0.5 - shape.flesh(p) / h, 0.0, 1.0);
                if (part == 0) continue;
                const auto add = [&](const Vec3& at) {
                    Pile& pile = piles[static_cast<std::size_t>(shape.region_inside(at))];
                    pile.volume += part;
                    pile.first += part * at;
                };
                add(p);
                if (even) add({p.x(), -p.y(), p.z()});
            }
        }
    }
    return piles;
}

std::vector<PartShare> shares(const BirdShape& shape, const std::vector<BirdBone>& bones, double flesh_volume,
                              double flesh_density) {
    std::array<Pile, kBirdRegions> piles = pile_up(shape, true);
    double counted = 0;
    for (const Pile& pile : piles) counted += pile.volume;
    std::vector<PartShare> list;
    for (std::size_t i = 0; i < kBirdRegions; ++i) {
        const auto region = static_cast<BirdRegion>(i);
        double mass = piles[i].volume / counted * flesh_volume * flesh_density;
        Vec3 first = piles[i].first / counted * flesh_volume * flesh_density;
        for (const BirdBone& bone : bones) {
            if (bone.region != region) continue;
            const Moments extra = (kBoneDensity - flesh_density) * volume_moments(bone.mesh);
            mass += extra.amount;
            first += extra.first();
        }
        if (mass > 0) list.push_back({bird_region_name(region), mass, first / mass});
    }
    return list;
}

// The stuffing in the middle of the cavity, as much of the bore as it needs.
Part stuffing_part(const Part& cavity, int cavity_index, double mass_kg) {
    constexpr double kLengthwise = 0.98;  // stays off both openings
    constexpr double kFullest = 0.995;    // and off the wall
    const double room = volume_moments(cavity.mesh).amount * kLengthwise * kFullest * kFullest;
    if (mass_kg > room * kStuffingPressed) {
        refuse("stuffing", kilograms(mass_kg),
               "at most " + kilograms(room * kStuffingPressed) + ", which fills the cavity when pressed",
               "leave out what does not fit");
    }
    const double share = std::min(1.0, mass_kg / (room * kStuffingLoose));
    Part part{.name = "stuffing", .kind = PartKind::stuffing, .mesh = cavity.mesh, .parent = cavity_index};
    const Vec3 middle = bounds(cavity.mesh).center();
    const Vec3 factor(kLengthwise, kFullest * std::sqrt(share), kFullest * std::sqrt(share));
    for (Vec3& v : part.mesh.vertices) {
        v = Vec3(middle.x() + factor.x() * (v.x() - middle.x()), factor.y() * v.y(), factor.z() * v.z());
    }
    part.density_kg_m3 = mass_kg / volume_moments(part.mesh).amount;
    return part;
}

}  // namespace

std::vector<std::string> bird_species() {
    std::vector<std::string> names;
    for (const Species& species : species_table()) names.emplace_back(species.name);
    return names;
}

Body make_bird(const BirdOptions& options) {
    const Species& species = find_species(options);
    const BirdShape shape(grown(species.form, options.mass_kg / species.reference_kg));
    const double flesh_density = composition_density(raw_food(species.flesh).composition, kRefrigerator);

    Body body;
    body.name = options.species;
    body.pointed_ends_known = true;
    for (std::size_t i = 0; i < kBirdRegions; ++i)
        body.region_names.push_back(bird_region_name(static_cast<BirdRegion>(i)));

    Part flesh{.name = "flesh", .kind = PartKind::flesh, .density_kg_m3 = flesh_density};
    flesh.mesh = mesh_field([&](const Vec3& p) { return shape.flesh(p); },
                            {.box = shape.box(), .spacing = options.spacing_m});
    flesh.regions.reserve(flesh.mesh.triangles.size());
    for (const Triangle& t : flesh.mesh.triangles) {
        const Vec3 middle = (flesh.mesh.corner(t, 0) + flesh.mesh.corner(t, 1) + flesh.mesh.corner(t, 2)) / 3;
        flesh.regions.push_back(static_cast<std::uint8_t>(shape.region_on_surface(middle)));
    }
    std::vector<BirdBone> bones = shape.bones();
    body.shares = shares(shape, bones, volume_moments(flesh.mesh).amount, flesh_density);
    body.parts.push_back(std::move(flesh));
    for (BirdBone& bone : bones) {
        body.parts.push_back({.name = std::move(bone.name),
                              .kind = PartKind::bone,
                              .mesh = std::move(bone.mesh),
                              .density_kg_m3 = kBoneDensity,
                              .parent = 0});
    }
    body.parts.push_back({.name = "cavity", .kind = PartKind::cavity, .mesh = shape.cavity_mesh(0.0005)});

    // Size: the form enlarged until flesh and bone of natural density weigh what the scale says.
    const double factor = std::cbrt(options.mass_kg / mass_moments(body).amount);
    const double origin_x = 0.5 * (shape.vent_x() + shape.neck_x());
    for (Part& part : body.parts) move_and_scale(part.mesh, origin_x, factor);
    body = with_scale_weight(std::move(body), options.mass_kg);
    double counted = 0;
    for (const PartShare& share : body.shares) counted += share.mass_kg;
    for (PartShare& share : body.shares) {
        share.mass_kg *= options.mass_kg / counted;
        share.centre_m = factor * (share.centre_m - Vec3(origin_x, 0, 0));
    }

    if (options.stuffing_kg > 0) {
        const int cavity_index = static_cast<int>(body.parts.size()) - 1;
        body.parts.push_back(stuffing_part(body.parts.back(), cavity_index, options.stuffing_kg));
    }
    return body;
}

}  // namespace evenspit
