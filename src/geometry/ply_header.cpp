// SPDX-License-Identifier: MIT
#include "geometry/ply_header.h"

#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <system_error>

#include <Eigen/Eigenvalues>
#include <fmt/format.h>

namespace evenspit::mesh_readers::ply {

namespace {

struct TypeName {
    std::string_view name;
    Type type;
};
constexpr std::array<TypeName, 16> type_names{{{"char", Type::int8},
                                               {"uchar", Type::uint8},
                                               {"short", Type::int16},
                                               {"ushort", Type::uint16},
                                               {"int", Type::int32},
                                               {"uint", Type::uint32},
                                               {"float", Type::float32},
                                               {"double", Type::float64},
                                               {"int8", Type::int8},
                                               {"uint8", Type::uint8},
                                               {"int16", Type::int16},
                                               {"uint16", Type::uint16},
                                               {"int32", Type::int32},
                                               {"uint32", Type::uint32},
                                               {"float32", Type::float32},
                                               {"float64", Type::float64}}};

Type read_type(const LineReader& text, std::size_t word) {
    if (word >= text.words().size()) text.refuse("a property without a type", "a type and a name");
    for (const TypeName& known : type_names) {
        if (known.name == text.words()[word]) return known.type;
    }
    text.refuse(in_quotes(text.words()[word]), "a type such as 'float' or 'uchar'");
}

// The numbers of centre_covariance_comment().
Mat3 read_covariance(const LineReader& text) {
    constexpr const char* expected = "six numbers of a covariance: xx xy xz yy yz zz";
    constexpr const char* mend = "take the line out; nothing is then known of the centre's error";
    constexpr std::size_t first = 3;
    if (text.words().size() != first + 6) {
        text.refuse(fmt::format("a centre covariance of {} numbers", text.words().size() - first), expected,
                    mend);
    }
    std::array<double, 6> c{};
    for (std::size_t k = 0; k < c.size(); ++k) c[k] = text.number(first + k);
    Mat3 covariance;
    covariance << c[0], c[1], c[2], c[1], c[3], c[4], c[2], c[4], c[5];
    constexpr double rounding = 1e-9;
    // No spread is less than none, whichever way one looks. A norm that overflows leaves nothing to judge by.
    if (!std::isfinite(covariance.norm()) ||
        Eigen::SelfAdjointEigenSolver<Mat3>(covariance, Eigen::EigenvaluesOnly).eigenvalues().minCoeff() <
            -rounding * covariance.norm()) {
        text.refuse("a centre covariance that no spread has", expected, mend);
    }
    return covariance;
}

// The number of scale_sigma_comment().
double read_scale_sigma(const LineReader& text) {
    constexpr std::size_t at = 3;
    const double share = text.words().size() == at + 1 ? text.number(at) : -1;
    if (!(share >= 0 && share < 1)) {
        text.refuse("a scale sigma that no share is", "a number from 0 to 1",
                    "take the line out; nothing is then known of the scale's error");
    }
    return share;
}

// The words of bird_comment(), which has one; other programs may say more of a bird.
void read_bird(const std::vector<std::string_view>& words, std::string& bird) {
    if (words.size() == 3 && words[1] == "bird") bird = std::string(words[2]);
}

// A name of region_comment(). What else other programs may say after the word is passed over.
void read_region_name(const std::vector<std::string_view>& words, std::vector<std::string>& names) {
    constexpr std::size_t most_regions = 256;  // as many as labelled_ply() can number
    constexpr std::size_t first = 3;
    if (words.size() <= first || words[1] != "region") return;
    std::size_t number = 0;
    const std::string_view digits = words[2];
    const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (fault != std::errc() || end != digits.data() + digits.size() || number >= most_regions) return;
    if (names.size() <= number) names.resize(number + 1);
    names[number] = std::string(words[first]);
    for (std::size_t w = first + 1; w < words.size(); ++w) names[number].append(" ").append(words[w]);
}

}  // namespace

std::size_t size_of(Type type) {
    switch (type) {
        case Type::int8:
        case Type::uint8:
            return 1;
        case Type::int16:
        case Type::uint16:
            return 2;
        case Type::int32:
        case Type::uint32:
        case Type::float32:
            return 4;
        case Type::float64:
            break;
    }
    return 8;
}

Header read_header(LineReader& text) {
    text.need("'ply'");
    if (text.words()[0] != "ply") text.refuse(in_quotes(text.words()[0]), "'ply'", "this is no PLY file");
    Header header;
    bool has_format = false;
    for (;;) {
        text.need("'end_header'");
        const auto& words = text.words();
        if (words[0] == "end_header") break;
        if (words[0] == "comment" && words.size() > 2 && words[1] == "centre" && words[2] == "covariance")
            header.centre_covariance = read_covariance(text);
        if (words[0] == "comment" && words.size() > 2 && words[1] == "scale" && words[2] == "sigma")
            header.scale_sigma = read_scale_sigma(text);
        if (words[0] == "comment") read_bird(words, header.bird);
        if (words[0] == "comment") read_region_name(words, header.region_names);
        if (words[0] == "comment" || words[0] == "obj_info") continue;
        if (words[0] == "format" && words.size() == 3) {
            has_format = true;
            if (words[1] == "ascii") {
                header.coding = Coding::text;
            } else if (words[1] == "binary_little_endian") {
                header.coding = Coding::little_endian;
            } else if (words[1] == "binary_big_endian") {
                header.coding = Coding::big_endian;
            } else {
                text.refuse(in_quotes(words[1]), "ascii, binary_little_endian or binary_big_endian");
            }
        } else if (words[0] == "element" && words.size() == 3) {
            const std::int64_t count = text.integer(2);
            if (count < 0 || count > std::numeric_limits<std::int32_t>::max()) {
                text.refuse(fmt::format("{} of {}", count, in_quotes(words[1])), "0 to 2147483647");
            }
            header.elements.push_back({words[1], count, {}});
        } else if (words[0] == "property" && !header.elements.empty() &&
                   (words.size() == 3 || words.size() == 5)) {
            auto& properties = header.elements.back().properties;
            if (words.size() == 3) {
                properties.push_back({words[2], read_type(text, 1), std::nullopt});
            } else {
                if (words[1] != "list") text.refuse(in_quotes(words[1]), "'list'");
                const Type count_type = read_type(text, 2);
                if (count_type == Type::float32 || count_type == Type::float64) {
                    text.refuse(in_quotes(words[2]), "a list counted in whole numbers");
                }
                properties.push_back({words[4], read_type(text, 3), count_type});
            }
        } else {
            text.refuse(in_quotes(words[0]), "a line of a PLY header");
        }
    }
    if (!has_format) {
        text.refuse("no format in the header", "ascii, binary_little_endian or binary_big_endian");
    }
    return header;
}

}  // namespace evenspit::mesh_readers::ply
