// SPDX-License-Identifier: MIT
#include <map>

#include <fmt/format.h>

#include "load/load_keys.h"
#include "report/json_writer.h"
#include "report/key_report.h"
#include "scan/scan_settings.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

/// What LoadKey::only_with asks for.
struct Company {
    std::string key;
    std::optional<Json> value;  ///< absent: any
    bool absent = false;        ///< it may not be there
};

Company company_of(const LoadKey& key) {
    const std::string text(key.only_with);
    if (text.starts_with("no ")) return {text.substr(3), {}, true};
    const auto sign = text.find(" = ");
    if (sign == std::string::npos) return {text, {}, false};
    return {text.substr(0, sign), Json::parse(text.substr(sign + 3)), false};
}

/// Builds the schema; what quantities look like is put among its definitions as it is met.
class SchemaWriter {
  public:
    Json written() {
        Json schema;
        schema["$schema"] = "https://json-schema.org/draft/2020-12/schema";
        schema["title"] = "Load file of evenspit";
        schema["description"] = "What the TOML of a load file says, as JSON";
        schema.update(object(key_table("")));
        // What is roasted has to be there: an item, or loose pieces in a basket.
        schema["anyOf"] = {{{"required", {"item"}}, {"properties", {{"item", {{"minItems", 1}}}}}},
                           {{"required", {"basket"}}}};
        schema["$defs"] = Json::object();
        for (auto& [name, definition] : definitions_) schema["$defs"][name] = std::move(definition);
        return schema;
    }

  private:
    Json object(const KeyTable& table) {
        Json json;
        json["type"] = "object";
        json["properties"] = Json::object();
        for (const LoadKey& key : table.keys) {
            Json value = value_of(table, key);
            value["description"] = key.meaning;
            if (!std::holds_alternative<std::monostate>(key.usual)) put_usual(value, key);
            json["properties"][std::string(key.name)] = std::move(value);
        }
        json["additionalProperties"] =
            table.any_other.empty() ? Json(false) : value_of(table, table.any_other.front());
        put_needs(json, table);
        return json;
    }

    /// A default that hangs on other things is a comment.
    static void put_usual(Json& value, const LoadKey& key) {
        if (std::holds_alternative<InWords>(key.usual)) {
            value["$comment"] = "default: " + usual_text(key);
        } else if (const auto* flag = std::get_if<bool>(&key.usual)) {
            value["default"] = *flag;
        } else if (key.form == KeyForm::number) {
            value["default"] = std::get<double>(key.usual);
        } else if (key.form == KeyForm::count) {
            value["default"] = static_cast<int>(std::get<double>(key.usual));
        } else {
            value["default"] = usual_text(key);
        }
    }

    /// Which keys have to be there, and which may only stand beside others.
    static void put_needs(Json& json, const KeyTable& table) {
        Json always = Json::array(), one_of = Json::array(), with = Json::object(), valued = Json::array();
        std::map<std::string, Json> needed_with;  // by the text of what they stand beside
        for (const LoadKey& key : table.keys) {
            const std::string name(key.name);
            if (key.only_with.empty()) {
                if (key.need == Need::required) always.push_back(name);
                continue;
            }
            const Company beside = company_of(key);
            if (beside.absent) {
                one_of.push_back({{"required", {name}}});
            } else if (!beside.value) {
                with[name] = {beside.key};
            } else {
                const Json so = {{"properties", {{beside.key, {{"const", *beside.value}}}}},
                                 {"required", {beside.key}}};
                valued.push_back({{"if", {{"required", {name}}}}, {"then", so}});
                if (key.need == Need::required) {
                    const auto at = needed_with.try_emplace(std::string(key.only_with), Json::object()).first;
                    at->second["if"] = so;
                    at->second["then"]["required"].push_back(name);
                }
            }
        }
        for (auto& [beside, needs] : needed_with) valued.push_back(std::move(needs));
        // What a model may hold cannot be seen from here.
        if (table.find("model") != nullptr) {
            if (!always.empty())
                json["anyOf"] = {{{"required", {"model"}}}, {{"required", std::move(always)}}};
        } else if (!always.empty()) {
            json["required"] = std::move(always);
        }
        if (!one_of.empty()) json["oneOf"] = std::move(one_of);
        if (!with.empty()) json["dependentRequired"] = std::move(with);
        if (!valued.empty()) json["allOf"] = std::move(valued);
    }

    Json value_of(const KeyTable& table, const LoadKey& key) {
        switch (key.form) {
            case KeyForm::text:
            case KeyForm::name:
            case KeyForm::file:
            case KeyForm::length_unit:
                return {{"type", "string"}};
            case KeyForm::word:
                return {{"enum", key.words}};
            case KeyForm::words:
                return list({{"enum", key.words}}, 0, key.words.size(), true);
            case KeyForm::flag:
                return {{"type", "boolean"}};
            case KeyForm::number:
                return number(key.range);
            case KeyForm::quantity: {
                const Json quantity = reference(key.dimension, key.range);
                if (key.words.empty()) return quantity;
                return {{"anyOf", {quantity, {{"enum", key.words}}}}};
            }
            case KeyForm::quantities:
                return list(reference(key.dimension, Range::any), key.count, key.count);
            case KeyForm::direction:
                return list({{"type", "number"}}, 3, 3);
            case KeyForm::count:
                return {{"type", "integer"}, {"minimum", 1}};
            case KeyForm::counts:
                return list({{"type", "integer"}, {"minimum", 1}}, 0, {}, true);
            case KeyForm::marks:
                return list({{"type", "string"}}, 0);
            case KeyForm::profile:
                return list(list(reference(Dimension::length, Range::any), 2, 2), 2);
            case KeyForm::time_of_day:
                return {{"type", "string"}, {"pattern", "^([01]?[0-9]|2[0-3]):[0-5][0-9]$"}};
            case KeyForm::files:
                return {{"anyOf", {{{"type", "string"}}, list({{"type", "string"}}, 1, scan::most_scans)}}};
            case KeyForm::table:
                return object(inner(table, key));
            case KeyForm::tables:
                return list(object(inner(table, key)), key.need == Need::required ? 1 : 0);
        }
        return {};
    }

    static const KeyTable& inner(const KeyTable& table, const LoadKey& key) {
        return key_table(table.path.empty() ? std::string(key.name)
                                            : fmt::format("{}.{}", table.path, key.name));
    }

    static Json list(Json of, std::size_t least, std::optional<std::size_t> most = {}, bool unique = false) {
        Json json{{"type", "array"}, {"items", std::move(of)}};
        if (least > 0) json["minItems"] = least;
        if (most) json["maxItems"] = *most;
        if (unique) json["uniqueItems"] = true;
        return json;
    }

    static Json number(Range range) {
        Json json{{"type", "number"}};
        if (range == Range::positive) json["exclusiveMinimum"] = 0;
        if (range == Range::not_negative) json["minimum"] = 0;
        return json;
    }

    Json reference(Dimension dimension, Range range) {
        std::string name = expected_quantity(dimension, range);
        for (const std::string_view article : {"a ", "an "}) {
            if (name.starts_with(article)) name = name.substr(article.size());
        }
        for (char& c : name) c = c == ' ' ? '-' : c;
        Json& definition = definitions_[name];
        if (definition.is_null()) {
            definition["type"] = "string";
            definition["description"] =
                fmt::format("{}: {}", expected_quantity(dimension, range), unit_examples(dimension));
            // A figure, and a unit behind it; the program itself tells which units there are.
            definition["pattern"] = range == Range::any ? "[0-9].*[^0-9.,/ ]" : "^[^-]*[0-9].*[^0-9.,/ ]";
        }
        return {{"$ref", "#/$defs/" + name}};
    }

    std::map<std::string, Json> definitions_;
};

}  // namespace

std::string load_schema() {
    return json_text(SchemaWriter().written());
}

}  // namespace evenspit
