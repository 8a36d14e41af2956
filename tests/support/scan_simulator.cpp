// SPDX-License-Identifier: MIT
#include "support/scan_simulator.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>
#include <utility>

namespace evenspit::test {

namespace {

constexpr double radians_per_degree = std::numbers::pi / 180;
constexpr double infinity = std::numeric_limits<double>::infinity();

// The standard distributions differ between libraries; these do not.
class Dice {
  public:
    explicit Dice(std::uint64_t seed) : engine_(seed) {}

    double uniform() { return double(engine_() >> 11) * 0x1p-53; }
    double uniform(double from, double to) { return from + (to - from) * uniform(); }
    std::size_t below(std::size_t n) { return std::min(n - 1, std::size_t(uniform() * double(n))); }
    double normal() {
        if (has_spare_) {
            has_spare_ = false;
            return spare_;
        }
        // Marsaglia's polar method, from memory.
        double u, v, s;
        do {
            u = uniform(-1, 1);
            v = uniform(-1, 1);
            s = u * u + v * v;
        } while (s >= 1 || s == 0);
        const double factor = std::sqrt(-2 * std::log(s) / s);
        spare_ = v * factor;
        has_spare_ = true;
        return u * factor;
    }
    Vec3 normals(double sigma) {
        const double x = normal(), y = normal(), z = normal();
        return sigma * Vec3(x, y, z);
    }
    // Uniform over all turns: a normalised four-dimensional normal vector.
    Mat3 turn() {
        const double w = normal(), x = normal(), y = normal(), z = normal();
        return Eigen::Quaterniond(w, x, y, z).normalized().toRotationMatrix();
    }

  private:
    std::mt19937_64 engine_;
    bool has_spare_ = false;
    double spare_ = 0;
};

struct Thing {
    TriangleMesh mesh;
    ScannedThing label;
};

TriangleMesh box(const Vec3& min, const Vec3& max) {
    TriangleMesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.vertices.emplace_back((i & 1) ? max.x() : min.x(), (i & 2) ? max.y() : min.y(),
                                   (i & 4) ? max.z() : min.z());
    }
    mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                      {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
    return mesh;
}

// Turned about the vertical: rings of (radius, height) from the foot to the top, both on the axis.
TriangleMesh turned(const std::vector<Vec2>& profile, const Vec3& foot, int n = 32) {
    TriangleMesh mesh;
    const auto rings = std::int32_t(profile.size());
    for (const Vec2& ring : profile) {
        for (int i = 0; i < n; ++i) {
            const double a = 2 * std::numbers::pi * i / n;
            mesh.vertices.push_back(foot + Vec3(ring.x() * std::cos(a), ring.x() * std::sin(a), ring.y()));
        }
    }
    for (std::int32_t j = 0; j + 1 < rings; ++j) {
        for (std::int32_t i = 0; i < n; ++i) {
            const std::int32_t k = (i + 1) % n;
            mesh.triangles.push_back({j * n + i, j * n + k, (j + 1) * n + k});
            mesh.triangles.push_back({j * n + i, (j + 1) * n + k, (j + 1) * n + i});
        }
    }
    return mesh;
}

TriangleMesh can(double radius, double height, const Vec3& foot) {
    return turned({{0, 0}, {radius, 0}, {radius, height}, {0, height}}, foot);
}

TriangleMesh ball(double radius, const Vec3& foot) {
    std::vector<Vec2> profile;
    for (int j = 0; j <= 16; ++j) {
        const double a = std::numbers::pi * j / 16;
        profile.emplace_back(radius * std::sin(a), radius * (1 - std::cos(a)));
    }
    return turned(profile, foot);
}

// Height of a warped board's top: a bowl about the middle, whose lowest point is 0 there and whose sides rise
// by the sag.
double board_height(const ScanSurroundings& room, double x, double y) {
    const double u = 2 * x / room.board_size_m.x(), v = 2 * y / room.board_size_m.y();
    return room.board_sag_m * (u * u + v * v) / 2;
}

// Top and rim of the board; a grid, so that it can be warped, and so that the part behind the camera can be
// left out.
TriangleMesh board_mesh(const ScanSurroundings& room) {
    constexpr std::int32_t n = 40;
    TriangleMesh mesh;
    for (std::int32_t j = 0; j <= n; ++j) {
        for (std::int32_t i = 0; i <= n; ++i) {
            const double x = room.board_size_m.x() * (double(i) / n - 0.5);
            const double y = room.board_size_m.y() * (double(j) / n - 0.5);
            mesh.vertices.emplace_back(x, y, board_height(room, x, y));
        }
    }
    const auto at = [](std::int32_t i, std::int32_t j) { return j * (n + 1) + i; };
    for (std::int32_t j = 0; j < n; ++j) {
        for (std::int32_t i = 0; i < n; ++i) {
            mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    }
    const auto rim = [&](std::int32_t a, std::int32_t b) {  // from a to b with the outside on the right
        const auto first = std::int32_t(mesh.vertices.size());
        for (const std::int32_t v : {a, b}) {
            Vec3 below = mesh.vertices[std::size_t(v)];
            below.z() -= room.board_thickness_m;
            mesh.vertices.push_back(below);
        }
        mesh.triangles.push_back({first, first + 1, b});
        mesh.triangles.push_back({first, b, a});
    };
    for (std::int32_t i = 0; i < n; ++i) {
        rim(at(i, 0), at(i + 1, 0));
        rim(at(n, i), at(n, i + 1));
        rim(at(i + 1, n), at(i, n));
        rim(at(0, i + 1), at(0, i));
    }
    return mesh;
}

TriangleMesh joined(const std::vector<TriangleMesh>& meshes) {
    TriangleMesh all;
    for (const TriangleMesh& mesh : meshes) {
        const auto first = std::int32_t(all.vertices.size());
        all.vertices.insert(all.vertices.end(), mesh.vertices.begin(), mesh.vertices.end());
        for (const Triangle& t : mesh.triangles)
            all.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
    }
    return all;
}

// What is between the body and the board, as a mesh and as the height that carries the body. Sizes are those
// of common kitchen things, from memory.
class Carrier {
  public:
    // \param body as it lies, its middle over the origin
    Carrier(const ScanSurroundings& room, const Box3& body) : room_(room) {
        half_ = 0.5 * body.sizes().head<2>();
        stand_radius_ = 0.42 * half_.minCoeff();
        plate_radius_ = std::max(0.9 * half_.minCoeff(), 0.75 * half_.maxCoeff());
    }

    [[nodiscard]] double height(double x, double y) const {
        const double h = room_.rest_height_m, r = std::hypot(x, y);
        switch (room_.rest) {
            case Rest::rack:
                return h;
            case Rest::stand:
                return r <= stand_radius_ ? h : 0;
            case Rest::plate: {
                const double flat = 0.6 * plate_radius_;
                if (r > plate_radius_) return 0;
                return plate_floor + std::max(0.0, (r - flat) / (plate_radius_ - flat)) * (h - plate_floor);
            }
            case Rest::tin:
                return tin_sheet;
            case Rest::board:
                break;
        }
        return room_.board ? board_height(room_, x, y) : 0.0;
    }

    [[nodiscard]] TriangleMesh mesh() const {
        const double h = room_.rest_height_m;
        switch (room_.rest) {
            case Rest::rack:
                return rack();
            case Rest::stand:
                return can(stand_radius_, h, Vec3::Zero());
            case Rest::plate: {
                const double r = plate_radius_, flat = 0.6 * r;
                return turned(
                    {{0, 0}, {flat, 0}, {r, h - plate_floor}, {r, h}, {flat, plate_floor}, {0, plate_floor}},
                    Vec3::Zero(), 64);
            }
            case Rest::tin: {
                const Vec2 in = half_ + Vec2::Constant(0.018), out = in + Vec2::Constant(tin_sheet);
                return joined({box({-out.x(), -out.y(), 0}, {out.x(), out.y(), tin_sheet}),
                               box({-out.x(), -out.y(), 0}, {-in.x(), out.y(), h}),
                               box({in.x(), -out.y(), 0}, {out.x(), out.y(), h}),
                               box({-out.x(), -out.y(), 0}, {out.x(), -in.y(), h}),
                               box({-out.x(), in.y(), 0}, {out.x(), out.y(), h})});
            }
            case Rest::board:
                break;
        }
        return {};
    }

  private:
    static constexpr double plate_floor = 0.006, tin_sheet = 0.0015;

    [[nodiscard]] TriangleMesh rack() const {
        constexpr double wire = 0.003, apart = 0.025;
        const double h = room_.rest_height_m;
        const Vec2 out = half_ + Vec2::Constant(0.03);
        std::vector<TriangleMesh> pieces;
        for (double x = -out.x(); x <= out.x(); x += apart)
            pieces.push_back(box({x - wire / 2, -out.y(), h - wire}, {x + wire / 2, out.y(), h}));
        for (const double y : {-out.y(), 0.0, out.y()})
            pieces.push_back(box({-out.x(), y - wire, h - 3 * wire}, {out.x(), y + wire, h - wire}));
        for (const double x : {-out.x(), out.x()}) {
            for (const double y : {-out.y(), out.y()})
                pieces.push_back(box({x - wire, y - wire, 0}, {x + wire, y + wire, h - wire}));
        }
        return joined(pieces);
    }

    ScanSurroundings room_;
    Vec2 half_;
    double stand_radius_, plate_radius_;
};

Carrier carrier_of(const TriangleMesh& body, const ScanOptions& options) {
    Box3 box;
    for (const Vec3& v : body.vertices) box.extend(options.lies * v);
    return {options.surroundings, box};
}

// Body frame → board frame: turned as it lies, middle above the board's middle, resting on what carries it.
Pose put_down(const TriangleMesh& body, const ScanOptions& options) {
    Box3 box;
    for (const Vec3& v : body.vertices) box.extend(options.lies * v);
    const Vec3 middle = box.center();
    const Carrier carrier = carrier_of(body, options);
    double lift = -infinity;
    for (const Vec3& v : body.vertices) {
        const Vec3 p = options.lies * v - middle;
        lift = std::max(lift, carrier.height(p.x(), p.y()) - p.z());
    }
    Pose pose = Pose::Identity();
    pose.linear() = options.lies;
    pose.translation() = Vec3(-middle.x(), -middle.y(), lift - middle.z());
    return pose;
}

std::vector<Thing> make_clutter(const ScanSurroundings& room, double body_radius, Dice& dice) {
    std::vector<Thing> things;
    for (int i = 0; i < room.clutter; ++i) {
        const double size = dice.uniform(0.015, 0.05), height = dice.uniform(0.02, 0.15);
        // A square's corner is the furthest from its middle that any of the shapes reaches.
        const double away = body_radius + room.clutter_gap_m + size * std::numbers::sqrt2;
        const double distance = away + dice.uniform(0, 0.12), azimuth = dice.uniform(0, 2 * std::numbers::pi);
        const double x = distance * std::cos(azimuth), y = distance * std::sin(azimuth);
        const Vec3 foot(x, y, room.board ? board_height(room, x, y) : 0.0);
        TriangleMesh mesh = i % 3 == 0   ? box(foot - Vec3(size, size, 0), foot + Vec3(size, size, height))
                            : i % 3 == 1 ? can(size, height, foot)
                                         : ball(size, foot);
        things.push_back({std::move(mesh), ScannedThing::clutter});
    }
    return things;
}

TriangleMesh mesh_of(const ThingBeside& thing, const ScanSurroundings& room, double body_radius) {
    const double reach = std::hypot(thing.size_m.x(), thing.size_m.y()) / 2;
    const double azimuth = thing.azimuth_deg * radians_per_degree,
                 away = body_radius + thing.gap_m +
                        (thing.kind == ThingBeside::Kind::can ? thing.size_m.x() / 2 : reach);
    const double x = away * std::cos(azimuth), y = away * std::sin(azimuth);
    const Vec3 foot(x, y, room.board ? board_height(room, x, y) : 0.0);
    if (thing.kind == ThingBeside::Kind::can) {
        const double r = thing.size_m.x() / 2, h = thing.size_m.z(), rim = thing.rim_m;
        constexpr double rim_height = 0.003;
        return turned({{0, 0},
                       {r + rim, 0},
                       {r + rim, rim_height},
                       {r, rim_height},
                       {r, h - rim_height},
                       {r + rim, h - rim_height},
                       {r + rim, h},
                       {0, h}},
                      foot, 180);
    }
    const Vec3 half(thing.size_m.x() / 2, thing.size_m.y() / 2, 0);
    TriangleMesh mesh = box(-half, half + Vec3(0, 0, thing.size_m.z()));
    const Mat3 turn =
        Eigen::AngleAxisd(thing.turn_deg * radians_per_degree, Vec3::UnitZ()).toRotationMatrix();
    for (Vec3& v : mesh.vertices) v = foot + turn * v;
    return mesh;
}

// A camera's own axes: x right, y down, z forward.
Pose look(const Vec3& eye, const Vec3& target) {
    const Vec3 forward = (target - eye).normalized();
    Vec3 right = forward.cross(Vec3::UnitZ());
    if (right.norm() < 1e-6) right = Vec3::UnitX();
    right.normalize();
    Pose pose = Pose::Identity();
    pose.linear().col(0) = right;
    pose.linear().col(1) = forward.cross(right);
    pose.linear().col(2) = forward;
    pose.translation() = eye;
    return pose;
}

// One pixel of a depth picture, and afterwards of what the phone made of it. Camera frame.
struct Pixel {
    double depth = infinity;  // along the camera's z axis
    Vec3 normal = Vec3::Zero();
    std::int32_t body_triangle = -1;
    ScannedThing thing = ScannedThing::body;
    bool given = false;
};

class Picture {
  public:
    explicit Picture(const DepthCamera& camera)
        : camera_(camera),
          focal_(camera.width / 2.0 / std::tan(camera.field_of_view_deg * radians_per_degree / 2)),
          pixels_(std::size_t(camera.width) * std::size_t(camera.height)) {}

    Pixel& at(int i, int j) { return pixels_[std::size_t(j) * std::size_t(camera_.width) + std::size_t(i)]; }
    // The ray through a pixel's middle, at depth 1.
    [[nodiscard]] Vec3 ray(int i, int j) const {
        return {(i + 0.5 - camera_.width / 2.0) / focal_, (j + 0.5 - camera_.height / 2.0) / focal_, 1};
    }

    // Z-buffer: keeps at each pixel the nearest triangle that faces the camera.
    void draw(const TriangleMesh& mesh, ScannedThing thing, const Pose& world_to_camera) {
        std::vector<Vec3> seen;
        seen.reserve(mesh.vertices.size());
        for (const Vec3& v : mesh.vertices) seen.push_back(world_to_camera * v);
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
            const auto [a, b, c] = mesh.triangles[t];
            draw(seen[std::size_t(a)], seen[std::size_t(b)], seen[std::size_t(c)], thing, std::int32_t(t));
        }
    }

  private:
    void draw(const Vec3& a, const Vec3& b, const Vec3& c, ScannedThing thing, std::int32_t triangle) {
        constexpr double nearest = 0.02;  // a triangle that reaches behind the lens is left out
        if (a.z() < nearest || b.z() < nearest || c.z() < nearest) return;
        const Vec3 normal = (b - a).cross(c - a);
        const double offset = normal.dot(a);
        if (!(offset < 0)) return;  // seen from behind, or flat

        const auto project = [this](const Vec3& p) {
            return Vec2(p.x() / p.z() * focal_ + camera_.width / 2.0,
                        p.y() / p.z() * focal_ + camera_.height / 2.0);
        };
        const Vec2 pa = project(a), pb = project(b), pc = project(c);
        const auto clamped = [](double value, int last) { return int(std::clamp(value, 0.0, double(last))); };
        const auto [x0, x1] = std::minmax({pa.x(), pb.x(), pc.x()});
        const auto [y0, y1] = std::minmax({pa.y(), pb.y(), pc.y()});
        if (x1 < 0 || y1 < 0 || x0 > camera_.width || y0 > camera_.height) return;
        const int i0 = clamped(x0 - 0.5, camera_.width - 1), i1 = clamped(x1, camera_.width - 1);
        const int j0 = clamped(y0 - 0.5, camera_.height - 1), j1 = clamped(y1, camera_.height - 1);

        const auto side = [](const Vec2& p, const Vec2& q, const Vec2& x) {
            return (q.x() - p.x()) * (x.y() - p.y()) - (q.y() - p.y()) * (x.x() - p.x());
        };
        for (int j = j0; j <= j1; ++j) {
            for (int i = i0; i <= i1; ++i) {
                const Vec2 p(i + 0.5, j + 0.5);
                const double ab = side(pa, pb, p), bc = side(pb, pc, p), ca = side(pc, pa, p);
                const bool inside = (ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0);
                if (!inside) continue;
                const double depth = offset / normal.dot(ray(i, j));
                Pixel& pixel = at(i, j);
                if (!(depth > 0) || depth >= pixel.depth) continue;
                pixel.depth = depth;
                pixel.normal = normal;
                pixel.thing = thing;
                pixel.body_triangle = thing == ScannedThing::body ? triangle : -1;
            }
        }
    }

    DepthCamera camera_;
    double focal_;  // pixels
    std::vector<Pixel> pixels_;
};

// A field of normal numbers that changes smoothly over the picture: bilinear between the knots of a coarse
// grid.
class SmoothField {
  public:
    SmoothField(int width, int height, int spacing, Dice& dice)
        : spacing_(spacing), columns_(width / spacing + 2), rows_(height / spacing + 2) {
        knots_.resize(std::size_t(columns_) * std::size_t(rows_));
        for (double& knot : knots_) knot = dice.normal();
    }
    [[nodiscard]] double at(int i, int j) const {
        const int column = i / spacing_, row = j / spacing_;
        const double u = double(i % spacing_) / spacing_, v = double(j % spacing_) / spacing_;
        const auto knot = [&](int c, int r) {
            return knots_[std::size_t(r) * std::size_t(columns_) + std::size_t(c)];
        };
        return (1 - v) * ((1 - u) * knot(column, row) + u * knot(column + 1, row)) +
               v * ((1 - u) * knot(column, row + 1) + u * knot(column + 1, row + 1));
    }

  private:
    int spacing_, columns_, rows_;
    std::vector<double> knots_;
};

Vec3 tilted(const Vec3& normal, double sigma, Dice& dice) {
    return sigma > 0 ? (normal + dice.normals(sigma)).normalized() : normal;
}

// What the phone makes of a clean depth picture: pixels lost, depths in error, silhouettes torn.
void spoil(Picture& picture, const DepthCamera& camera, Dice& dice) {
    const int width = camera.width, height = camera.height;
    std::vector<double> clean(std::size_t(width) * std::size_t(height));
    for (int j = 0; j < height; ++j) {
        for (int i = 0; i < width; ++i) {
            clean[std::size_t(j) * std::size_t(width) + std::size_t(i)] = picture.at(i, j).depth;
        }
    }
    std::vector<Vec3> patches;  // (i, j, radius)
    for (int k = 0; k < camera.patches; ++k) {
        const double i = dice.uniform(0, width), j = dice.uniform(0, height);
        patches.emplace_back(i, j, camera.patch_pixels * dice.uniform(0.5, 1.5));
    }
    const SmoothField waves(width, height, std::max(1, camera.waviness_pixels), dice);
    const double least_cosine = std::cos(camera.grazing_deg * radians_per_degree);

    for (int j = 0; j < height; ++j) {
        for (int i = 0; i < width; ++i) {
            Pixel& pixel = picture.at(i, j);
            if (pixel.depth == infinity) continue;
            const Vec3 ray = picture.ray(i, j);
            pixel.normal.normalize();
            pixel.given = -pixel.normal.dot(ray) / ray.norm() >= least_cosine;
            if (camera.dropout > 0 && dice.uniform() < camera.dropout) pixel.given = false;
            for (const Vec3& patch : patches) {
                if (std::hypot(i - patch.x(), j - patch.y()) < patch.z()) pixel.given = false;
            }

            const double true_depth = pixel.depth;
            const double growth = std::pow(true_depth * ray.norm() / camera.noise_distance_m, 2);
            // Errors are along the ray; depth is along z.
            if (camera.noise_m > 0) pixel.depth += growth * camera.noise_m * dice.normal() / ray.norm();
            if (camera.waviness_m > 0)
                pixel.depth += growth * camera.waviness_m * waves.at(i, j) / ray.norm();

            if (camera.flying_share > 0 && i + 1 < width) {
                const double next = clean[std::size_t(j) * std::size_t(width) + std::size_t(i + 1)];
                const bool torn = next < infinity && std::abs(next - true_depth) > 0.02;
                if (torn && dice.uniform() < camera.flying_share) {
                    pixel.depth = true_depth + dice.uniform() * (next - true_depth);
                    pixel.thing = ScannedThing::flying;
                    pixel.body_triangle = -1;
                }
            }
        }
    }
}

void demand(bool condition, const char* what) {
    if (!condition) throw std::invalid_argument(what);
}

void check(const TriangleMesh& body, const ScanOptions& options) {
    const DepthCamera& camera = options.camera;
    demand(!body.triangles.empty(), "simulate_scan: the body has no triangles");
    demand(!options.rounds.empty(), "simulate_scan: no round to walk");
    for (const ScanRound& round : options.rounds) {
        demand(round.views > 0, "simulate_scan: a round needs views");
        demand(round.distance_m > 0, "simulate_scan: a round's distance must be > 0");
    }
    demand(camera.width > 1 && camera.height > 1, "simulate_scan: the picture has no pixels");
    demand(camera.field_of_view_deg > 0 && camera.field_of_view_deg < 170, "simulate_scan: field of view");
    demand(camera.noise_distance_m > 0, "simulate_scan: noise_distance_m must be > 0");
    demand(camera.dropout >= 0 && camera.dropout < 1, "simulate_scan: dropout must be in [0, 1)");
    demand(options.metres_per_unit > 0, "simulate_scan: metres_per_unit must be > 0");
}

// The scan as it grows, scan frame, metres.
class Gatherer {
  public:
    Gatherer(SimulatedScan& scan, std::size_t body_triangles, bool sheets)
        : scan_(scan), seen_(body_triangles, false), sheets_(sheets) {}

    // Takes what a picture gave to the scan frame with the pose that the phone believed it had.
    void add(Picture& picture, const DepthCamera& camera, const Pose& believed, Dice& dice) {
        std::vector<std::int32_t> index(std::size_t(camera.width) * std::size_t(camera.height), -1);
        const auto index_at = [&](int i, int j) -> std::int32_t& {
            return index[std::size_t(j) * std::size_t(camera.width) + std::size_t(i)];
        };
        for (int j = 0; j < camera.height; ++j) {
            for (int i = 0; i < camera.width; ++i) {
                const Pixel& pixel = picture.at(i, j);
                if (!pixel.given) continue;
                index_at(i, j) = std::int32_t(scan_.mesh.vertices.size());
                scan_.mesh.vertices.push_back(believed * Vec3(pixel.depth * picture.ray(i, j)));
                scan_.normals.push_back(
                    believed.linear() *
                    tilted(pixel.normal, camera.normal_noise_deg * radians_per_degree, dice));
                scan_.things.push_back(pixel.thing);
                if (pixel.body_triangle >= 0) seen_[std::size_t(pixel.body_triangle)] = true;
            }
        }
        if (!sheets_) return;
        for (int j = 0; j + 1 < camera.height; ++j) {
            for (int i = 0; i + 1 < camera.width; ++i) {
                // Rows run downward, so this order is counter-clockwise as the camera sees it.
                sheet_triangle(index_at(i, j), index_at(i, j + 1), index_at(i + 1, j + 1), believed);
                sheet_triangle(index_at(i, j), index_at(i + 1, j + 1), index_at(i + 1, j), believed);
            }
        }
    }

    [[nodiscard]] double seen_share(const TriangleMesh& body) const {
        double seen = 0, all = 0;
        for (std::size_t t = 0; t < body.triangles.size(); ++t) {
            const Triangle& triangle = body.triangles[t];
            const Vec3 a = body.corner(triangle, 0);
            const double area = (body.corner(triangle, 1) - a).cross(body.corner(triangle, 2) - a).norm();
            all += area;
            if (seen_[t]) seen += area;
        }
        return seen / all;
    }

  private:
    void sheet_triangle(std::int32_t a, std::int32_t b, std::int32_t c, const Pose& believed) {
        constexpr double jump = 0.02;  // m; neighbours further apart in depth belong to different things
        if (a < 0 || b < 0 || c < 0) return;
        const auto depth = [&](std::int32_t v) {
            return (scan_.mesh.vertices[std::size_t(v)] - believed.translation())
                .dot(believed.linear().col(2));
        };
        const auto [least, most] = std::minmax({depth(a), depth(b), depth(c)});
        if (most - least <= jump) scan_.mesh.triangles.push_back({a, b, c});
    }

    SimulatedScan& scan_;
    std::vector<bool> seen_;
    bool sheets_;
};

// Keeps `count` points, each as likely as the next, in their order (Knuth's selection sampling, from memory).
void thin_out(SimulatedScan& scan, std::size_t count, Dice& dice) {
    const std::size_t all = scan.mesh.vertices.size();
    std::size_t kept = 0;
    for (std::size_t v = 0; v < all && kept < count; ++v) {
        if (double(all - v) * dice.uniform() >= double(count - kept)) continue;
        scan.mesh.vertices[kept] = scan.mesh.vertices[v];
        scan.normals[kept] = scan.normals[v];
        scan.things[kept] = scan.things[v];
        ++kept;
    }
    scan.mesh.vertices.resize(kept);
    scan.normals.resize(kept);
    scan.things.resize(kept);
}

// A turn (axis times angle) about a pivot, and a shift.
Pose small_move(const Vec3& shift, const Vec3& turn, const Vec3& pivot) {
    Pose move = Pose::Identity();
    const double angle = turn.norm();
    if (angle > 0) move.linear() = Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
    move.translation() = pivot + shift - move.linear() * pivot;
    return move;
}

}  // namespace

SimulatedScan simulate_scan(const TriangleMesh& body, const ScanOptions& options) {
    check(body, options);
    Dice dice(options.seed);
    SimulatedScan scan;
    scan.metres_per_unit = options.metres_per_unit;

    const Pose lying = put_down(body, options);
    std::vector<Thing> things;
    things.push_back({transformed(body, lying), ScannedThing::body});
    const Box3 box = bounds(things[0].mesh);
    double body_radius = 0;
    for (const Vec3& v : things[0].mesh.vertices)
        body_radius = std::max(body_radius, std::hypot(v.x(), v.y()));
    if (options.surroundings.board) things.push_back({board_mesh(options.surroundings), ScannedThing::board});
    if (options.surroundings.rest != Rest::board)
        things.push_back({carrier_of(body, options).mesh(), ScannedThing::rest});
    for (Thing& thing : make_clutter(options.surroundings, body_radius, dice))
        things.push_back(std::move(thing));
    for (const ThingBeside& thing : options.surroundings.beside)
        things.push_back({mesh_of(thing, options.surroundings, body_radius), ScannedThing::beside});

    Pose frame = Pose::Identity();  // board → scan
    if (options.own_axes) {
        frame.linear() = dice.turn();
        frame.translation() = dice.normals(0.5);
    }
    scan.body_pose = frame * lying;
    scan.board_up = frame.linear() * Vec3::UnitZ();
    scan.board_point = frame.translation();

    const Vec3 middle = box.center();
    Vec3 drift = Vec3::Zero(), drift_turn = Vec3::Zero();  // the pose error gathered so far
    Gatherer gatherer(scan, body.triangles.size(), options.form == ScanForm::depth_sheets);
    for (const ScanRound& round : options.rounds) {
        if (&round != &options.rounds.front()) {
            drift += dice.normals(options.round_jump_m);
            drift_turn += dice.normals(options.round_jump_deg * radians_per_degree);
        }
        for (int view = 0; view < round.views; ++view) {
            const double azimuth =
                (round.from_deg + round.span_deg * view / round.views) * radians_per_degree;
            const double elevation = round.elevation_deg * radians_per_degree;
            const Vec3 eye = middle + round.distance_m * Vec3(std::cos(elevation) * std::cos(azimuth),
                                                              std::cos(elevation) * std::sin(azimuth),
                                                              std::sin(elevation));
            const Pose camera_pose = look(eye, middle);
            Picture picture(options.camera);
            const Pose to_camera = camera_pose.inverse();
            for (const Thing& thing : things) picture.draw(thing.mesh, thing.label, to_camera);
            spoil(picture, options.camera, dice);

            // A random walk: after a whole round of n steps its σ is n^½ times that of a step.
            const double step = 1 / std::sqrt(double(round.views));
            drift += dice.normals(options.drift_m * step);
            drift_turn += dice.normals(options.drift_deg * radians_per_degree * step);
            const Pose error = small_move(drift, drift_turn, middle);
            gatherer.add(picture, options.camera, frame * error * camera_pose, dice);
            scan.eyes.push_back(frame * eye);
        }
    }
    scan.seen_share = gatherer.seen_share(body);

    if (options.points > 0 && options.form == ScanForm::cloud) thin_out(scan, options.points, dice);
    if (!options.normals) scan.normals.clear();
    for (Vec3& v : scan.mesh.vertices) v /= options.metres_per_unit;
    return scan;
}

Mat3 turned_over(const Mat3& lies, double askew_deg) {
    const Mat3 over = Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitX()).toRotationMatrix();
    const Mat3 askew = Eigen::AngleAxisd(askew_deg * radians_per_degree, Vec3::UnitZ()).toRotationMatrix();
    return askew * lies * over;
}

}  // namespace evenspit::test
