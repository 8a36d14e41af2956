// SPDX-License-Identifier: MIT
#include "body/bird_fit.h"

#include <cmath>
#include <vector>

#include <Eigen/Dense>

#include "body/grown_body.h"
#include "body/likely_measure.h"
#include "body/refuse.h"
#include "units/metric.h"

namespace evenspit::body {
namespace {

// What is sought: logarithms of the enlargement and of the proportions over the prior's.
enum Unknown : Eigen::Index { size_at, length_at, width_at, depth_at, splay_at, unknowns };
using Unknowns = Eigen::Matrix<double, unknowns, 1>;

BirdForm form_of(const BirdForm& prior, const Unknowns& u) {
    BirdForm form = prior;
    form.length *= std::exp(u[length_at]);
    form.leg_length *= std::exp(u[length_at]);
    form.wing_length *= std::exp(u[length_at]);
    form.neck_length *= std::exp(u[length_at]);
    form.width *= std::exp(u[width_at]);
    form.depth *= std::exp(u[depth_at]);
    form.splay *= std::exp(u[splay_at]);
    return form;
}

struct Measures {
    double length = 0, width = 0, depth = 0, breast_width = 0, girth = 0, leg_splay = 0;  // m
    double flesh_volume = 0;                                                              // m3
};

Measures measure(const BirdForm& form, const Limbs& limbs, double factor) {
    const BirdShape shape(form, limbs);
    const TriangleMesh mesh =
        mesh_field([&](const Vec3& p) { return shape.flesh(p); }, {.box = shape.box(), .spacing = 0.018});
    const Vec3 size = bounds(mesh).sizes();
    return {.length = factor * size.x(),
            .width = factor * size.y(),
            .depth = factor * size.z(),
            .breast_width = factor * shape.breast_width(),
            .girth = factor * shape.girth(),
            .leg_splay = factor * shape.hock_spread(),
            .flesh_volume = factor * factor * factor * volume_moments(mesh).amount};
}

struct TapeEntry {
    const char* key;
    double wanted;  // m
    double Measures::*measure;
    double furthest;  // factor from the usual one
};

std::vector<TapeEntry> entries(const BirdTape& tape) {
    std::vector<TapeEntry> list;
    const auto add = [&list](const char* key, const std::optional<double>& wanted, double Measures::*m,
                             double furthest = furthest_bird_measure) {
        if (!wanted) return;
        if (!(*wanted > 0) || !std::isfinite(*wanted))
            refuse(key, "a length that is not positive", "a length", "");
        list.push_back({key, *wanted, m, furthest});
    };
    add("length", tape.length, &Measures::length);
    add("width", tape.width, &Measures::width);
    add("depth", tape.depth, &Measures::depth);
    add("breast_width", tape.breast_width, &Measures::breast_width);
    add("girth", tape.girth, &Measures::girth);
    add("leg_splay", tape.leg_splay, &Measures::leg_splay, furthest_leg_splay);
    return list;
}

// Before any fit is tried: what no fit could reach.
void require_likely(const std::vector<TapeEntry>& wanted, const Measures& usual, double factor,
                    const MeasuredBird& bird) {
    for (const TapeEntry& entry : wanted) {
        require_likely_measure(entry.key, entry.wanted, factor * usual.*entry.measure, entry.furthest,
                               bird.species, bird.mass_kg);
    }
}

constexpr double measure_error = 0.003;
constexpr double density_error = 0.03;
constexpr double form_spread = 0.08;
constexpr double splay_spread = 0.4;
// Whole birds without their cavity: wet flesh and bone, some air under the skin. From memory.
constexpr double least_density = 900;
constexpr double greatest_density = 1200;

}  // namespace

BirdFit fit_bird(const BirdForm& prior, const Limbs& limbs, const BirdTape& tape, const MeasuredBird& bird) {
    const std::vector<TapeEntry> wanted = entries(tape);

    // Bones make the whole a little denser than its flesh, the same in every form.
    const BirdShape first(prior, limbs);
    double bone_volume = 0;
    for (const Bone& bone : bird_bones(first)) bone_volume += volume_moments(bone.mesh).amount;
    const Measures first_measures = measure(prior, limbs, 1);
    const double first_volume = first_measures.flesh_volume;
    const double density =
        bird.flesh_density + (bone_density - bird.flesh_density) * bone_volume / first_volume;

    Unknowns u = Unknowns::Zero();
    u[size_at] = std::log(bird.mass_kg / (density * first_volume)) / 3;
    require_likely(wanted, first_measures, std::exp(u[size_at]), bird);
    const auto measures_at = [&](const Unknowns& at) {
        return measure(form_of(prior, at), limbs, std::exp(at[size_at]));
    };
    const auto residuals = [&](const Unknowns& at) {
        const Measures m = measures_at(at);
        Eigen::VectorXd r(static_cast<Eigen::Index>(wanted.size()) + unknowns);
        Eigen::Index row = 0;
        for (const TapeEntry& entry : wanted)
            r[row++] = std::log(m.*entry.measure / entry.wanted) / measure_error;
        r[row++] = std::log(density * m.flesh_volume / bird.mass_kg) / density_error;
        for (const Unknown k : {length_at, width_at, depth_at}) r[row++] = at[k] / form_spread;
        r[row++] = at[splay_at] / splay_spread;
        return r;
    };

    Eigen::VectorXd r = residuals(u);
    double damping = 1e-3;
    for (int round = 0; round < 12; ++round) {
        Eigen::MatrixXd jacobian(r.size(), static_cast<Eigen::Index>(unknowns));
        for (Eigen::Index k = 0; k < unknowns; ++k) {
            // Wide enough that the mesh's own grain does not show.
            const double step = 0.02;
            Unknowns beside = u;
            beside[k] += step;
            jacobian.col(k) = (residuals(beside) - r) / step;
        }
        const Eigen::MatrixXd normal = jacobian.transpose() * jacobian;
        bool better = false;
        for (int attempt = 0; attempt < 6 && !better; ++attempt) {
            Eigen::MatrixXd damped = normal;
            damped.diagonal() *= 1 + damping;
            Unknowns change = damped.ldlt().solve(-jacobian.transpose() * r);
            change = change.cwiseMax(-0.3).cwiseMin(0.3);
            const Unknowns next = u + change;
            const Eigen::VectorXd next_r = residuals(next);
            better = next_r.squaredNorm() < r.squaredNorm();
            damping = better ? damping / 10 : damping * 10;
            if (!better) continue;
            const bool settled = r.squaredNorm() - next_r.squaredNorm() < 1e-3;
            u = next;
            r = next_r;
            if (settled) round = 1000;
        }
        if (!better) break;
    }

    const Measures m = measures_at(u);
    const TapeEntry* worst = nullptr;
    double miss = 0.04;
    for (const TapeEntry& entry : wanted) {
        const double off = std::abs(std::log(m.*entry.measure / entry.wanted));
        if (off > miss) {
            miss = off;
            worst = &entry;
        }
    }
    const double implied = bird.mass_kg / m.flesh_volume;
    if (!worst && implied > least_density && implied < greatest_density &&
        u.cwiseAbs().tail<4>().head<3>().maxCoeff() < 0.35) {
        return {form_of(prior, u), std::exp(u[size_at])};
    }
    if (!worst) {
        // All measures can be had together, but not at this weight: blame the one furthest from the species'
        // own.
        Unknowns natural = Unknowns::Zero();
        natural[size_at] = std::log(bird.mass_kg / (density * first_volume)) / 3;
        const Measures usual = measures_at(natural);
        for (const TapeEntry& entry : wanted) {
            const double off = std::abs(std::log(usual.*entry.measure / entry.wanted));
            if (!worst || off > miss) {
                miss = off;
                worst = &entry;
            }
        }
        const double fits = usual.*(worst->measure);
        refuse(worst->key, metric_length(worst->wanted),
               "about " + metric_length(fits) + " for a " + bird.species + " of " + kilograms(bird.mass_kg),
               "check the tape and the scale; for a bird unlike others give a scan");
    }
    refuse(worst->key, metric_length(worst->wanted),
           "about " + metric_length(m.*(worst->measure)) + " with the other measures and a weight of " +
               kilograms(bird.mass_kg),
           "check the tape and the scale; for a bird unlike others give a scan");
}

}  // namespace evenspit::body
