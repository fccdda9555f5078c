"""The demo's stories: one file each, all of it invented."""

from barnlight.demo.stories import far_listing, house_clearance, shop_counter, ten_holders

STORIES = {
    "house_clearance": house_clearance.tell,
    "shop_counter": shop_counter.tell,
    "ten_holders": ten_holders.tell,
    "far_listing": far_listing.tell,
}
