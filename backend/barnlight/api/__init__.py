"""HTTP only: each file declares a few addresses and hands over; what they mean lives in sync, store and report."""
