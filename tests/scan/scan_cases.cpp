// SPDX-License-Identifier: MIT
#include "scan_cases.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <variant>

#include "body/bird_shape.h"
#include "body/bird_species.h"
#include "body/mesher.h"
#include "geometry/moments.h"

namespace evenspit::test {

namespace {

constexpr double degrees = std::numbers::pi / 180;

// A sum of waves in random directions, of root mean square one, as a push along the normal.
class Waves {
  public:
    Waves(std::mt19937_64& dice, double shortest_m, double longest_m) {
        std::normal_distribution<double> normal;
        std::uniform_real_distribution<double> uniform;
        for (Wave& wave : waves_) {
            const double x = normal(dice), y = normal(dice), z = normal(dice);
            const double length = shortest_m + (longest_m - shortest_m) * uniform(dice);
            wave.vector = 2 * std::numbers::pi / length * Vec3(x, y, z).normalized();
            wave.phase = 2 * std::numbers::pi * uniform(dice);
        }
    }
    [[nodiscard]] double at(const Vec3& p) const {
        double sum = 0;
        for (const Wave& wave : waves_) sum += std::sin(wave.vector.dot(p) + wave.phase);
        return sum * std::sqrt(2.0 / double(waves_.size()));
    }

  private:
    struct Wave {
        Vec3 vector;
        double phase = 0;
    };
    std::array<Wave, 8> waves_;
};

double greatest_radius(const TriangleMesh& mesh, const Pose& to_axis) {
    double most = 0;
    for (const Vec3& v : mesh.vertices) {
        const Vec3 p = to_axis * v;
        most = std::max(most, std::hypot(p.y(), p.z()));
    }
    return most;
}

std::string found_carrier(const scan::ScanReport& report) {
    for (const scan::ScanNote& note : report.remarks) {
        const auto* const cut = std::get_if<scan::note::CarrierCut>(&note);
        if (cut == nullptr) continue;
        return cut->what == scan::RestsOn::rack    ? "rack"
               : cut->what == scan::RestsOn::stand ? "stand"
                                                   : "tin";
    }
    return "board";
}

double angle_deg(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b)) / degrees;
}

}  // namespace

TrueBody random_bird(std::uint64_t seed) {
    std::mt19937_64 dice(1000 + seed);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    const std::vector<body::BirdSpecies>& species = body::bird_species_table();
    body::BirdForm form = species[seed % 3 == 0 ? (seed / 3) % species.size() : 0].form;  // most are turkeys
    for (double body::BirdForm::*part :
         {&body::BirdForm::length, &body::BirdForm::width, &body::BirdForm::depth, &body::BirdForm::breast,
          &body::BirdForm::keel, &body::BirdForm::leg_length, &body::BirdForm::thigh_girth,
          &body::BirdForm::drumstick_girth, &body::BirdForm::splay, &body::BirdForm::wing_length,
          &body::BirdForm::wing_girth, &body::BirdForm::neck_length, &body::BirdForm::neck_girth,
          &body::BirdForm::tail}) {
        form.*part *= std::exp(0.08 * normal(dice));
    }
    TrueBody body;
    body.bird = true;
    body.scale = 0.65 + 0.5 * uniform(dice);
    const body::BirdShape shape(form);
    const Waves waves(dice, 0.06, 0.20);
    const double height = 0.002 + 0.002 * uniform(dice);  // at reference size
    Box3 box = shape.box();
    box.extend(box.min() - Vec3::Constant(0.02));
    box.extend(box.max() + Vec3::Constant(0.02));
    body.skin = body::mesh_field([&](const Vec3& p) { return shape.skin(p) + height * waves.at(p); },
                                 {.box = box, .spacing = 0.008});
    const double origin_x = 0.5 * (shape.vent_x() + shape.neck_x());
    for (Vec3& v : body.skin.vertices) v = body.scale * (v - Vec3(origin_x, 0, 0));
    return body;
}

TrueBody random_roast(std::uint64_t seed) {
    std::mt19937_64 dice(2000 + seed);
    std::uniform_real_distribution<double> uniform;
    const Vec3 half(0.11 + 0.07 * uniform(dice), 0.07 + 0.03 * uniform(dice), 0.05 + 0.03 * uniform(dice));
    const double egg = 0.3 * uniform(dice), bend = 0.1 * (uniform(dice) - 0.5),
                 squareness = 2 + uniform(dice);
    const double flat = 0.7 + 0.3 * uniform(dice);  // depth below the middle, over that above
    const Waves waves(dice, 0.08, 0.25);
    const double height = 0.002 + 0.002 * uniform(dice);
    const double least = half.minCoeff();
    TrueBody body;
    body.skin = body::mesh_field(
        [&](const Vec3& p) {
            const double t = p.x() / half.x(), thin = 1 - egg * std::clamp(t, -1.2, 1.2);
            const Vec3 q(t, (p.y() - bend * t * t * half.y()) / (half.y() * thin),
                         p.z() / (half.z() * thin * (p.z() < 0 ? flat : 1)));
            const double r =
                std::pow(std::pow(std::abs(q.x()), squareness) + std::pow(std::abs(q.y()), squareness) +
                             std::pow(std::abs(q.z()), squareness),
                         1 / squareness);
            return 0.7 * least * (r - 1) + height * waves.at(p);
        },
        {.box = Box3(Vec3(-1.3 * half.x(), -1.8 * half.y(), -1.8 * half.z()),
                     Vec3(1.3 * half.x(), 1.8 * half.y(), 1.8 * half.z())),
         .spacing = 0.006});
    return body;
}

ScanOptions random_scan(std::uint64_t seed) {
    std::mt19937_64 dice(3000 + seed);
    std::uniform_real_distribution<double> uniform;
    ScanOptions options;
    options.seed = seed;
    options.lies = Eigen::AngleAxisd(2 * std::numbers::pi * uniform(dice), Vec3::UnitZ()).toRotationMatrix() *
                   Eigen::AngleAxisd(6 * degrees * (uniform(dice) - 0.5), Vec3::UnitX()).toRotationMatrix() *
                   Eigen::AngleAxisd(6 * degrees * (uniform(dice) - 0.5), Vec3::UnitY()).toRotationMatrix();
    const double low = 8 + 14 * uniform(dice);
    options.rounds = {{0.55, low, 360 * uniform(dice), 360, 10}, {0.5, 50, 15, 360, 8}, {0.5, 80, 0, 360, 2}};
    options.camera.noise_m = 0.001 + 0.003 * uniform(dice);
    options.camera.waviness_m = 0.25 * options.camera.noise_m;
    options.camera.dropout = 0.1 * uniform(dice);
    options.camera.patches = int(8 * uniform(dice));
    options.camera.grazing_deg = 72 + 8 * uniform(dice);
    options.camera.flying_share = 0.2 * uniform(dice);
    options.surroundings.board_size_m = {0.5 + 0.4 * uniform(dice), 0.4 + 0.3 * uniform(dice)};
    options.surroundings.board_sag_m = 0.006 * uniform(dice);
    options.surroundings.clutter = int(6 * uniform(dice));
    options.drift_m = 0.0005 * uniform(dice);
    options.drift_deg = 0.1 * uniform(dice);
    options.round_jump_m = 0.0003 * uniform(dice);
    options.points = 200000;
    return options;
}

ScanCase scanned(const TrueBody& body, const ScanOptions& options, bool two_scans) {
    ScanCase made;
    made.body = body;
    const auto add = [&](const SimulatedScan& scan) {
        made.scans.push_back({"simulated", {scan.mesh, {}, scan.metres_per_unit, 0}});
    };
    const SimulatedScan first = simulate_scan(body.skin, options);
    add(first);
    if (two_scans) {
        ScanOptions over = options;
        over.seed = options.seed + 500000;
        over.lies = turned_over(options.lies, 40 + double(options.seed % 7) * 20);
        add(simulate_scan(body.skin, over));
    }
    made.body_pose = first.body_pose;
    made.noise_mm = 1e3 * options.camera.noise_m;
    made.missing = 1 - first.seen_share;
    made.settings.keep_frame = true;
    return made;
}

Outcome outcome_of(const ScanCase& given, std::uint64_t seed) {
    return compared(given, scan::make_body(given.scans, given.settings), seed);
}

Outcome compared(const ScanCase& given, const scan::ScannedBody& found, std::uint64_t seed) {
    Outcome outcome;
    outcome.seed = seed;
    outcome.noise_mm = given.noise_mm;
    outcome.missing = given.missing;

    const TriangleMesh& skin = given.body.skin;
    const Moments truth = transformed(volume_moments(skin), given.body_pose);
    const Moments made = volume_moments(found.mesh);
    outcome.volume = made.amount / truth.amount - 1;
    outcome.volume_sigma = found.report.volume_sigma_m3 / truth.amount;
    outcome.volume_sigmas = (made.amount - truth.amount) / found.report.volume_sigma_m3;
    outcome.centre_mm = 1e3 * (made.centre - truth.centre).norm();
    outcome.centre_sigmas = 1e-3 * outcome.centre_mm / found.report.centre_sigma_m;
    const Pose back = given.body_pose.inverse();
    outcome.radius_mm = 1e3 * (greatest_radius(found.mesh, back) - greatest_radius(skin, Pose::Identity()));
    outcome.axis_deg = angle_deg(found.to_item.linear().row(0), back.linear().row(0));
    outcome.up_deg = angle_deg(found.to_item.linear().row(2), back.linear().row(2));
    outcome.confidence = found.report.axis_confidence;
    outcome.taken_for_bird = found.bird;
    outcome.underside = found.report.passes[0].underside;
    outcome.rests_on = found_carrier(found.report);
    outcome.report = found.report;
    return outcome;
}

Outcome try_case(const TrueBody& body, std::uint64_t seed, bool two_scans) {
    return outcome_of(scanned(body, random_scan(seed), two_scans), seed);
}

double percentile(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    return values.empty() ? 0 : values[std::size_t(std::ceil(share * double(values.size()))) - 1];
}

}  // namespace evenspit::test
