// SPDX-License-Identifier: MIT
#include "load/load_file.h"

#include "load/cook_reader.h"
#include "load/fire_reader.h"
#include "load/item_reader.h"
#include "load/reading.h"
#include "load/rig_reader.h"
#include "load/roll_test_reader.h"
#include "load/spread_reader.h"
#include "load/surface_reader.h"
#include "rig/plane_room.h"

namespace evenspit {
namespace {

void remark_on_heat(const Cook& cook, const Cooker& cooker, Reading& reading) {
    if (burns_in_the_open(cooker)) {
        if (cook.cooker_temperature_k)
            reading.remarks.emplace_back(
                "A fire in the open holds no temperature: cooker_temperature counts for the rod only.");
        if (cook.fire.preheat_k)
            reading.remarks.emplace_back("A fire in the open heats no cooker: preheat counts for nothing.");
    } else if (!cook.cooker_temperature_k) {
        reading.remarks.emplace_back(
            "The cook is not computed, since [cook] does not tell cooker_temperature: "
            "usual losses by part count.");
    }
}

Assembly put_together(const TomlNode& root, const std::filesystem::path& file,
                      const std::filesystem::path& models, const KeptFiles* kept) {
    Reading reading;
    reading.models = models;
    reading.kept = kept;
    TableReader reader(root, key_table(""), "", reading.complaints);
    // Nothing else is told of a load that holds more than can be: complaining of each would take long, too.
    for (const char* const key : {"item", "fork", "bracket", "basket", "counterweight", "roll_test"})
        reader.refuse_crowd(key);
    reading.complaints.throw_if_any(file.string());

    Assembly assembly;
    assembly.file = file.string();
    assembly.title = reader.text("title").value_or(file.stem().string());
    // The cook first: its temperature is the rod's unless that has its own.
    if (auto cook = reader.table("cook")) assembly.cook = read_cook(*cook);
    if (auto rod = reader.table("rod")) {
        assembly.rod =
            read_rod(*rod, assembly.cook ? assembly.cook->cooker_temperature_k : std::nullopt, reading);
    }
    if (auto motor = reader.table("motor")) assembly.motor = read_motor(*motor, reading);
    if (auto cooker = reader.table("cooker")) assembly.cooker = read_cooker(*cooker, reading);
    if (auto cook = reader.table("cook"); cook && assembly.cook)
        refuse_coals_without_bed(*cook, assembly.cook->fire, assembly.cooker);
    if (assembly.cooker.surfaces.empty()) {
        reading.remarks.emplace_back("No cooker surfaces are given, so no clearance is computed.");
    }
    std::vector<TableReader> given = reader.tables("item");
    const std::vector<std::string> names = item_names(given);
    for (std::size_t i = 0; i < given.size(); ++i)
        assembly.items.push_back(read_item(given[i], names[i], reading));
    bool no_item = false;
    const TomlNode* items = reader.find("item");
    if (items == nullptr || (items->kind == TomlNode::Kind::array && items->elements.empty())) {
        no_item = true;
    }
    if (auto cook = reader.table("cook"); cook && assembly.cook)
        refuse_unknown_places(*cook, *assembly.cook, assembly.items, reading);
    if (assembly.cook) remark_on_heat(*assembly.cook, assembly.cooker, reading);
    for (TableReader& fork : reader.tables("fork")) assembly.forks.push_back(read_fork(fork, reading));
    for (TableReader& bracket : reader.tables("bracket"))
        assembly.forks.push_back(read_bracket(bracket, reading));
    for (TableReader& basket : reader.tables("basket"))
        assembly.forks.push_back(read_basket(basket, reading));
    const bool loose_pieces = std::any_of(assembly.forks.begin(), assembly.forks.end(),
                                          [](const Fork& fork) { return fork.cage.contents_kg > 0; });
    if (no_item && !loose_pieces)
        reader.missing("item", "at least one item", "add a section [[item]] for what is roasted");
    for (TableReader& weight : reader.tables("counterweight")) {
        assembly.counterweights.push_back(read_counterweight(weight, reading));
    }
    if (auto stock = reader.table("stock")) assembly.stock = read_stock(*stock);
    if (auto spread = reader.table("spread")) assembly.spread = read_spread(*spread);
    for (TableReader& test : reader.tables("roll_test"))
        assembly.roll_tests.push_back(read_roll_test(test, assembly));
    reader.refuse_unknown();

    reading.complaints.throw_if_any(assembly.file);
    void_moved_tests(assembly, reading);
    assembly.remarks = std::move(reading.remarks);
    return assembly;
}

}  // namespace

Assembly read_load(const std::filesystem::path& file, const std::filesystem::path& models,
                   const KeptFiles* kept) {
    return put_together(read_toml(file), file, models, kept);
}

Assembly read_load_text(std::string_view text, const std::filesystem::path& file,
                        const std::filesystem::path& models, const KeptFiles* kept) {
    return put_together(parse_toml(text, file.string()), file, models, kept);
}

}  // namespace evenspit
