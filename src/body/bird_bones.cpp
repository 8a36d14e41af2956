// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <numbers>
#include <utility>

#include "body/bird_landmarks.h"
#include "body/bird_shape.h"
#include "body/tube.h"
#include "geometry/bvh.h"

namespace evenspit {
namespace {

// Sizes of bones are from memory of carved birds, at the reference turkey's size.

// No bone comes nearer to the skin or the cavity's wall than this; the meshed skin departs from the field by
// far less.
constexpr double kCover = 3 * kMm;
constexpr double kApart = 1.5 * kMm;  // nor to another bone
constexpr double kLeastRadius = 0.4 * kMm;

using Covered = std::function<bool(const Vec3&)>;

// How far one can go from `at` toward `outward` and stay under cover, at most `want`.
double covered_reach(const Covered& covered, const Vec3& at, const Vec3& outward, double want) {
    constexpr int kSteps = 6;
    double inside = 0, outside = want;
    for (int i = 1; i <= kSteps; ++i) {
        const double r = want * i / kSteps;
        if (!covered(at + r * outward)) {
            outside = r;
            break;
        }
        inside = r;
    }
    if (inside == want) return want;
    for (int round = 0; round < 16; ++round) {
        const double r = 0.5 * (inside + outside);
        (covered(at + r * outward) ? inside : outside) = r;
    }
    return std::max(inside, kLeastRadius);
}

// Draws the ends in until the line lies under cover, walking from the middle outward; false if not even the
// middle does.
bool shorten_to_cover(const Covered& covered, Vec3& from, Vec3& to) {
    const Vec3 middle = 0.5 * (from + to);
    if (!covered(middle)) return false;
    for (Vec3* end : {&from, &to}) {
        const Vec3 whole = *end - middle;
        double inside = 0, outside = 1;
        constexpr int kSteps = 24;
        for (int i = 1; i <= kSteps; ++i) {
            const double s = static_cast<double>(i) / kSteps;
            if (!covered(middle + s * whole)) {
                outside = s;
                break;
            }
            inside = s;
        }
        for (int round = 0; inside < 1 && round < 16; ++round) {
            const double s = 0.5 * (inside + outside);
            (covered(middle + s * whole) ? inside : outside) = s;
        }
        *end = middle + inside * whole;
    }
    return true;
}

// Rounds a profile off to a point at both ends.
double rounded_ends(double s, double share) {
    const double from_end = std::min(s, 1 - s) / share;
    return from_end >= 1 ? 1.0 : std::sqrt(std::max(from_end * (2 - from_end), 0.0));
}

// A long bone: a shaft with a knob at either end.
double long_bone(double s, double shaft, double knob) {
    const double from_middle = 2 * std::abs(s - 0.5);
    return rounded_ends(s, 0.08) * (shaft + (knob - shaft) * std::pow(from_middle, 4));
}

// Radius of an ellipse with half axes a along `up` and b across it.
double ellipse(const Vec3& outward, const Vec3& up, double a, double b) {
    const double c = outward.dot(up) / a;
    const double s2 = std::max(0.0, 1 - outward.dot(up) * outward.dot(up)) / (b * b);
    return 1 / std::sqrt(c * c + s2);
}

class BoneMaker {
  public:
    BoneMaker(const BirdShape& shape, const BirdForm& form) : shape_(shape), m_(form) {}

    void trunk() {
        // Keel: an upright blade between the breast lobes, over the sternum's plate that roofs the cavity.
        const Vec3 rear = m_.breast(-44, 0, 46), front = m_.breast(88, 0, 44);
        const double plate_half = m_.girth(4), keel_half = m_.girth(15) * m_.f.breast;
        const Vec3 rise(0, 0, plate_half + m_.girth(2.5) + keel_half);
        plate("sternum", BirdRegion::breast, rear, front, plate_half, m_.girth(36));
        plate("keel", BirdRegion::breast, rear + rise - m_.breast(20, 0, 0),
              front + rise + m_.breast(10, 0, 2), keel_half, m_.girth(5));
        plate("spine", BirdRegion::back, m_.trunk(-130, 0, -62), m_.trunk(126, 0, -54), m_.girth(13),
              m_.girth(15));
        pair([&] {
            plate("pelvis", BirdRegion::back, m_.trunk(-128, 37, -48), m_.trunk(-14, 42, -60), m_.girth(9),
                  m_.girth(22));
        });
        pair([&] { ribs(); });
    }

    void leg(bool thigh, bool drumstick, Side side) {
        one_side(side, [&] {
            const Vec3 along = m_.knee() - m_.hip(), shin = m_.hock() - m_.knee();
            if (thigh) {
                limb_bone("femur", BirdRegion::right_thigh, m_.hip() + 0.02 * along, m_.knee() - 0.14 * along,
                          m_.leg(10), m_.leg(15));
            }
            if (drumstick) {
                limb_bone("tibia", BirdRegion::right_drumstick, m_.knee() + 0.08 * shin,
                          m_.hock() + 0.04 * shin, m_.leg(10), m_.leg(16));
            }
        });
    }

    void wing(Side side) {
        one_side(side, [&] {
            const Vec3 upper = m_.elbow() - m_.shoulder(), fore = m_.wrist() - m_.elbow();
            limb_bone("humerus", BirdRegion::right_wing, m_.shoulder() + 0.02 * upper,
                      m_.elbow() - 0.05 * upper, m_.wing(11), m_.wing(15));
            limb_bone("radius and ulna", BirdRegion::right_wing, m_.elbow() + 0.16 * fore,
                      m_.wrist() - 0.03 * fore, m_.wing(11), m_.wing(13));
        });
    }

    std::vector<BirdBone> take() { return std::move(bones_); }

  private:
    // Lies along the line; `high` upward and `wide` across are half its thickness.
    void plate(const std::string& name, BirdRegion region, Vec3 from, Vec3 to, double high, double wide) {
        tube(name, region, from, to, [=](const Vec3& outward, double s) {
            return rounded_ends(s, 0.15) * ellipse(outward, Vec3::UnitZ(), high, wide);
        });
    }

    void limb_bone(const std::string& name, BirdRegion region, Vec3 from, Vec3 to, double shaft,
                   double knob) {
        tube(name, region, from, to, [=](const Vec3&, double s) { return long_bone(s, shaft, knob); });
    }

    void tube(const std::string& name, BirdRegion region, Vec3 from, Vec3 to,
              const std::function<double(const Vec3&, double)>& radius) {
        const Covered covered = [this](const Vec3& p) { return is_covered(p); };
        if (!shorten_to_cover(covered, from, to)) return;
        TubeOptions options{.from = from, .to = to, .around = 16, .along = 16};
        add(name, region, tube_mesh(options, [&](const Vec3& at, const Vec3& outward, double s) {
                return covered_reach(covered, at, outward, std::max(radius(outward, s), kLeastRadius));
            }));
    }

    // Cage of ribs on the right: a shell along the cavity's wall, of the ribs' volume and not of their
    // number.
    void ribs() {
        constexpr int kAlong = 14, kRound = 10;
        const double thickness = 6 * kMm;
        const Covered covered = [this](const Vec3& p) { return is_covered(p); };
        TriangleMesh shell;
        const auto at = [](int layer, int i, int j) {
            return static_cast<std::int32_t>((layer * (kAlong + 1) + i) * (kRound + 1) + j);
        };
        for (int layer = 0; layer < 2; ++layer) {
            for (int i = 0; i <= kAlong; ++i) {
                const Vec3 on_axis = m_.trunk(-48 + 140.0 * i / kAlong, 0, 0);
                for (int j = 0; j <= kRound; ++j) {
                    const double angle = (-48 + 84.0 * j / kRound) * std::numbers::pi / 180;
                    const Vec3 outward(0, std::cos(angle), std::sin(angle));
                    const double inner = wall_cover(on_axis, outward);
                    const double outer =
                        inner + covered_reach(covered, on_axis + inner * outward, outward, thickness);
                    shell.vertices.emplace_back(on_axis + (layer == 0 ? inner : outer) * outward);
                }
            }
        }
        const auto face = [&](std::int32_t a, std::int32_t b, std::int32_t c, std::int32_t d) {
            shell.triangles.push_back({a, b, c});
            shell.triangles.push_back({a, c, d});
        };
        for (int i = 0; i < kAlong; ++i) {
            for (int j = 0; j < kRound; ++j) {
                face(at(1, i, j), at(1, i, j + 1), at(1, i + 1, j + 1), at(1, i + 1, j));
                face(at(0, i, j), at(0, i + 1, j), at(0, i + 1, j + 1), at(0, i, j + 1));
            }
            face(at(0, i, 0), at(1, i, 0), at(1, i + 1, 0), at(0, i + 1, 0));
            face(at(0, i, kRound), at(0, i + 1, kRound), at(1, i + 1, kRound), at(1, i, kRound));
        }
        for (int j = 0; j < kRound; ++j) {
            face(at(0, 0, j), at(0, 0, j + 1), at(1, 0, j + 1), at(1, 0, j));
            face(at(0, kAlong, j), at(1, kAlong, j), at(1, kAlong, j + 1), at(0, kAlong, j + 1));
        }
        add("ribs", BirdRegion::back, std::move(shell));
    }

    [[nodiscard]] bool is_covered(const Vec3& p) const {
        const Vec3 at(p.x(), side_ == Side::right ? p.y() : -p.y(), p.z());
        if (shape_.flesh(at) > -kCover) return false;
        return std::none_of(placed_.begin(), placed_.end(), [&](const Placed& bone) {
            return bone.near.contains(at) &&
                   (bone.solid.closest(at).distance < kApart || bone.solid.contains(at));
        });
    }

    void add(const std::string& name, BirdRegion region, TriangleMesh mesh) {
        if (side_ == Side::left) {
            mesh = mirror_image(std::move(mesh));
            if (region >= BirdRegion::right_thigh)
                region = static_cast<BirdRegion>(static_cast<int>(region) + 1);
        }
        Box3 near = bounds(mesh);
        near.extend(Vec3(near.min() - Vec3::Constant(kApart)));
        near.extend(Vec3(near.max() + Vec3::Constant(kApart)));
        placed_.push_back({near, SolidQueries(mesh)});
        bones_.push_back({name, region, std::move(mesh)});
    }

    // First radius from the axis at which a rib has its cover from the cavity's wall.
    [[nodiscard]] double wall_cover(const Vec3& on_axis, const Vec3& outward) const {
        double inside = 0, outside = 0.3;
        for (int round = 0; round < 40; ++round) {
            const double r = 0.5 * (inside + outside);
            (shape_.bore(on_axis + r * outward) < 1.2 * kCover ? inside : outside) = r;
        }
        return outside;
    }

    template <class Make>
    void one_side(Side side, const Make& make) {
        const std::size_t before = bones_.size();
        side_ = side;
        make();
        side_ = Side::right;
        const std::string prefix = side == Side::right ? "right " : "left ";
        for (std::size_t i = before; i < bones_.size(); ++i) bones_[i].name = prefix + bones_[i].name;
    }

    template <class Make>
    void pair(const Make& make) {
        one_side(Side::right, make);
        one_side(Side::left, make);
    }

    const BirdShape& shape_;
    Landmarks m_;
    // Bones are made on the right; a left one lies in the mirror image of the flesh and of the bones that are
    // there already.
    Side side_ = Side::right;
    struct Placed {
        Box3 near;
        SolidQueries solid;
    };
    std::vector<Placed> placed_;
    std::vector<BirdBone> bones_;
};

}  // namespace

std::vector<BirdBone> BirdShape::bones() const {
    BoneMaker maker(*this, form_);
    maker.trunk();
    for (const Side side : {Side::right, Side::left}) {
        const auto s = static_cast<std::size_t>(side);
        maker.leg(limbs_.thigh[s], limbs_.drumstick[s], side);
        if (limbs_.wing[s]) maker.wing(side);
    }
    return maker.take();
}

TriangleMesh BirdShape::cavity_mesh(double inset) const {
    const TubeOptions options{.from = {vent_x_ + inset, 0, 0},
                              .to = {neck_x_ - inset, 0, 0},
                              .around = 32,
                              .along = 40,
                              .flat_ends = true};
    return tube_mesh(options, [&](const Vec3& at, const Vec3& outward, double) {
        double inside = 0, outside = 0.5;
        for (int round = 0; round < 44; ++round) {
            const double r = 0.5 * (inside + outside);
            (bore(at + r * outward) < -inset ? inside : outside) = r;
        }
        return inside;
    });
}

}  // namespace evenspit
