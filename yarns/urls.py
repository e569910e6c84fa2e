"""Addresses of the yarn room, all under /desk/yarns/."""

from django.urls import path

from yarns.views import book, catalogue, labels, lists, lots, receiving, shelf, stocktakes

app_name = "yarns"

urlpatterns = [
    path("", shelf.shelf, name="shelf"),
    path("shelf.csv", shelf.shelf_export, name="shelf_export"),
    path("shades/", shelf.shade_card, name="shade_card"),
    path("shades.svg", shelf.shade_picture, name="shade_picture"),
    path("book/", book.book, name="book"),
    path("book.csv", book.book_export, name="book_export"),
    path("yarns/", catalogue.yarns, name="yarns"),
    path("yarn/new/", catalogue.yarn_add, name="yarn_add"),
    path("yarn/<int:pk>/", catalogue.yarn, name="yarn"),
    path("yarn/<int:pk>/edit/", catalogue.yarn_edit, name="yarn_edit"),
    path("yarn/<int:pk>/measured/", catalogue.yarn_measured, name="yarn_measured"),
    path("yarn/<int:pk>/colour/", catalogue.colour_add, name="colour_add"),
    path("colour/<int:pk>/edit/", catalogue.colour_edit, name="colour_edit"),
    path("supply/new/", catalogue.supply_add, name="supply_add"),
    path("supply/<int:pk>/edit/", catalogue.supply_edit, name="supply_edit"),
    path("places/", catalogue.places, name="places"),
    path("place/<int:pk>/edit/", catalogue.place_edit, name="place_edit"),
    path("place/<int:pk>/delete/", catalogue.place_delete, name="place_delete"),
    path("receive/", receiving.receive, name="receive"),
    path("receive/<int:pk>/", receiving.parcel, name="parcel"),
    path("receive/<int:pk>/entry/", receiving.parcel_entry, name="parcel_entry"),
    path("receive/<int:pk>/add/", receiving.parcel_add, name="parcel_add"),
    path("receive/<int:pk>/close/", receiving.parcel_close, name="parcel_close"),
    path("receive/<int:pk>/reopen/", receiving.parcel_reopen, name="parcel_reopen"),
    path(
        "receive/<int:pk>/take-back/<str:code>/",
        receiving.parcel_take_back,
        name="parcel_take_back",
    ),
    path("lists/", lists.lists, name="lists"),
    path("lists/take-in/", lists.lists_take_in, name="lists_take_in"),
    path("everything.xlsx", lists.everything_export, {"kind": "xlsx"}, name="everything_xlsx"),
    path("everything.zip", lists.everything_export, {"kind": "zip"}, name="everything_zip"),
    path("labels/", labels.labels, name="labels"),
    path("stocktakes/", stocktakes.stocktakes, name="stocktakes"),
    path("stocktake/<int:pk>/", stocktakes.stocktake, name="stocktake"),
    path("stocktake/<int:pk>/sheet.pdf", stocktakes.stocktake_sheet, name="stocktake_sheet"),
    path("stocktake/<int:pk>/place/<int:place>/", stocktakes.stocktake_place, name="stocktake_place"),
    path(
        "stocktake/<int:pk>/place/<int:place>/<str:code>/",
        stocktakes.stocktake_count,
        name="stocktake_count",
    ),
    path(
        "stocktake/<int:pk>/place/<int:place>/<str:code>/forget/",
        stocktakes.stocktake_forget,
        name="stocktake_forget",
    ),
    path("stocktake/<int:pk>/post/", stocktakes.stocktake_post, name="stocktake_post"),
    path("stocktake/<int:pk>/drop/", stocktakes.stocktake_drop, name="stocktake_drop"),
    path("lot/<str:code>/", lots.lot, name="lot"),
    path("lot/<str:code>/edit/", lots.lot_edit, name="lot_edit"),
    path("lot/<str:code>/move/", lots.lot_move, name="lot_move"),
    path("lot/<str:code>/weigh/", lots.lot_weigh, name="lot_weigh"),
    path("lot/<str:code>/issue/", lots.lot_issue, name="lot_issue"),
    path("lot/<str:code>/back/", lots.lot_give_back, name="lot_give_back"),
    path("lot/<str:code>/correct/", lots.lot_correct, name="lot_correct"),
    path("lot/<str:code>/write-off/", lots.lot_write_off, name="lot_write_off"),
    path("lot/<str:code>/undo/<int:pk>/", lots.lot_undo, name="lot_undo"),
]
